// Pictures of a working point, drawn from its numbers: the pressure walk from pump to nozzle, what
// hose and nozzle ask for against flow, and the pipe part full.
(function (sheet) {
  "use strict";
  sheet.pictures = function (m, k, u) {
    var WIDE = 340, HIGH = 200, LEFT = 8, RIGHT = 332, TOP = 26, FOOT = 172;

    function node(tag, attributes, kids) {
      var made = document.createElementNS("http://www.w3.org/2000/svg", tag);
      Object.keys(attributes).forEach(function (name) { made.setAttribute(name, attributes[name]); });
      (kids || []).forEach(function (kid) { made.appendChild(kid); });
      return made;
    }
    function text(x, y, said, anchor) {
      var made = node("text", { x: x, y: y, "text-anchor": anchor || "start" });
      made.textContent = said;
      return made;
    }
    function path(points, kind) {
      return node("path", { d: points.map(function (p, i) {
        return (p[2] || !i ? "M" : "L") + p[0].toFixed(1) + " " + p[1].toFixed(1);
      }).join(""), "class": "ws-" + kind });
    }
    function level(y, said, kind) {
      return [path([[LEFT, y], [RIGHT, y]], kind), text(RIGHT, y - 5, said, "end")];
    }
    function picture(label, kids) {
      return node("svg", { viewBox: "0 0 " + WIDE + " " + HIGH, role: "img", "aria-label": label }, kids);
    }
    function shown(si, what) { return u.both(si, what, 3)[0]; }

    function walk(rig, duty, ceiling) {
      var limit = m.limitOf(rig.pump), most = Math.max(limit, duty.nozzle, duty.gauge, ceiling || 0) * 1.08;
      var length = m.sum(rig.hoses, function (hose) { return hose.length; }) || 1;
      var end = RIGHT - 60, x = LEFT + 20, now = duty.gauge;
      var head = duty.nozzle + duty.hose_loss - duty.gauge;
      function y(pressure) { return FOOT - (FOOT - TOP) * pressure / most; }
      var points = [[x, y(now)]];
      rig.hoses.forEach(function (hose, i) {
        x += (end - LEFT - 20) * hose.length / length;
        now += head * hose.length / length - duty.segment_losses[i];
        points.push([x, y(now)]);
      });
      points.push([end, y(duty.nozzle)], [end, FOOT]);
      return picture(u.said("ws_walk_told", {
        gauge: shown(duty.gauge, "pressure"), lost: shown(duty.hose_loss, "pressure"),
        nozzle: shown(duty.nozzle, "pressure")
      }), [path([[LEFT, FOOT], [RIGHT, FOOT]], "axis")]
        .concat(level(y(limit), u.said("ws_limit", { at: shown(limit, "pressure") }), "limit"))
        .concat(ceiling ? level(y(ceiling), u.said("ws_ceiling_at", { at: shown(ceiling, "pressure") }), "ceiling") : [])
        .concat([
          path(points, "main"), text(LEFT, HIGH - 8, u.said("ws_pump_at", { at: shown(duty.gauge, "pressure") })),
          text(RIGHT, HIGH - 8, u.said("ws_nozzle_at", { at: shown(duty.nozzle, "pressure") }), "end")
        ]));
    }

    function curves(rig, duty) {
      var limit = m.limitOf(rig.pump), water = m.waterAt(rig.temperature);
      var area = m.totalArea(rig.jets), head = water.density * k.gravity * rig.below;
      var most = limit * 1.15, widest = rig.pump.flow * 1.06, steps = 48;
      function x(flow) { return LEFT + (RIGHT - LEFT) * flow / widest; }
      function y(pressure) { return FOOT - (FOOT - TOP) * pressure / most; }
      function curve(of, kind) {
        var points = [], fresh = true;
        for (var i = 1; i <= steps; i += 1) {
          var flow = rig.pump.flow * i / steps;
          var pressure = m.attempt(of.bind(null, flow));
          if (pressure === null || pressure > most || pressure < 0) { fresh = true; continue; }
          points.push([x(flow), y(pressure), fresh]);
          fresh = false;
        }
        return path(points, kind);
      }
      var drawn = [path([[LEFT, TOP], [LEFT, FOOT], [RIGHT, FOOT]], "axis")]
        .concat(level(y(limit), u.said("ws_limit", { at: shown(limit, "pressure") }), "limit"));
      drawn.push(path([[x(rig.pump.flow), TOP], [x(rig.pump.flow), FOOT]], "limit"));
      if (area) {
        var way = new m.FlowPath(rig.hoses, area, water);
        drawn.push(curve(function (flow) { return way.demand(flow) - head; }, "main"));
        drawn.push(curve(function (flow) { return way.demand(flow) - way.nozzle(flow); }, "hose"));
      }
      drawn.push(node("circle", { cx: x(duty.flow), cy: y(duty.gauge), r: 7, "class": "ws-dot" }));
      drawn.push(text(LEFT, HIGH - 8, "0"), text(RIGHT, HIGH - 8, shown(rig.pump.flow, "flow"), "end"));
      return picture(u.said("ws_curves_told", {
        flow: shown(duty.flow, "flow"), gauge: shown(duty.gauge, "pressure")
      }), drawn);
    }

    function pipe(found, bore) {
      var r = 78, cx = 100, cy = 100, depth = found ? found.depth : 1;
      var across = r * Math.sqrt(Math.max(1 - Math.pow(1 - 2 * depth, 2), 0)), y = cy + r - 2 * r * depth;
      var water = found ? node("path", { "class": "ws-water", d: "M" + (cx - across) + " " + y + "A" + r + " " + r +
        " 0 " + (depth > 0.5 ? 1 : 0) + " 0 " + (cx + across) + " " + y + "Z" }) :
        node("circle", { cx: cx, cy: cy, r: r, "class": "ws-water" });
      var said = found ? u.said("ws_depth_told", {
        depth: shown(depth * bore, "small length"), bore: shown(bore, "small length"), speed: shown(found.velocity, "speed")
      }) : u.said("ws_runs_full", {});
      return picture(said, [water, node("circle", { cx: cx, cy: cy, r: r, "class": "ws-pipe" })].concat(found ? [
        text(196, 96, shown(depth * bore, "small length")),
        text(196, 118, u.said("ws_of_bore", { bore: shown(bore, "small length") }))
      ] : []));
    }
    return { walk: walk, curves: curves, pipe: pipe };
  };
})(window.refgenSheet = window.refgenSheet || {});
