// The short sums: from the values of a sum's fields (SI, undefined where a field is empty) the
// numbers that it gives, how each is shown, and what must be said with them.
(function (sheet) {
  "use strict";
  sheet.sums = function (m, k) {
    var cold = m.waterAt(k.standardWater);
    function straight(bore, length, roughness) {
      return { bore: bore, length: length, roughness: roughness, onReel: 0, reel: null };
    }
    function given(value) { return value !== undefined; }

    var sums = {
      hose: {
        rows: [
          ["lost", "lost_in_hose", "pressure"], ["height", "ws_height_costs", "pressure"],
          ["total", "ws_together", "pressure"], ["left", "left_at_nozzle", "pressure"],
          ["other", "ws_lost_in_other", "pressure"], ["otherLeft", "ws_left_with_other", "pressure"],
          ["ratio", "ws_times_other", "number"]
        ],
        values: function (v) {
          var water = m.waterAt(v.water), found = {};
          found.lost = m.pressureLoss(straight(v.bore, v.length, v.roughness), v.flow, water);
          found.height = m.headPressure(v.above, water.density);
          found.total = found.lost + found.height;
          if (given(v.gauge)) found.left = v.gauge - found.total;
          if (given(v.bore2)) {
            var length = given(v.length2) ? v.length2 : v.length;
            found.other = m.pressureLoss(straight(v.bore2, length, v.roughness), v.flow, water);
            if (found.other) found.ratio = found.lost / found.other;
            if (given(v.gauge)) found.otherLeft = v.gauge - found.other - found.height;
          }
          return found;
        },
        say: function (v, f) {
          return ["ws_say_gauge_before_hose"].concat(f.left <= 0 || f.otherLeft <= 0 ?
            "ws_hose_takes_all" : []);
        }
      },
      jet: {
        rows: [
          ["pressure", "left_at_nozzle", "pressure"], ["flow", "flow", "flow"],
          ["number", "ws_jet_number", "number"], ["speed", "ws_jet_velocity", "speed"],
          ["push", "ws_push_back", "force"]
        ],
        values: function (v) {
          var flow = v.flow, pressure = v.pressure, found = {};
          if (given(flow) && given(pressure) && given(v.number)) m.refuse("ws_leave_one");
          if (given(flow) && given(v.number)) {
            pressure = found.pressure = m.pressureFor(flow, m.areaOfNumber(v.number), cold.density);
          } else if (given(pressure) && given(v.number)) {
            flow = found.flow = m.flowThrough(m.areaOfNumber(v.number), pressure, cold.density);
          } else if (given(flow) && given(pressure)) {
            found.number = m.numberOfArea(m.areaFor(flow, pressure, cold.density));
          }
          if (!given(pressure)) m.refuse("ws_leave_one");
          found.speed = m.jetSpeed(pressure, cold.density, v.cv);
          if (given(flow)) found.push = m.reaction(flow, found.speed, cold.density);
          return found;
        },
        fixed: { cv: [1, 0.95, 1] },
        say: function (v, f) {
          return (given(f.push) ? ["ws_hold_" + m.hold(f.push), "ws_say_lance"] : [])
            .concat("ws_say_at_nozzle");
        }
      },
      tank: {
        rows: [
          ["lasts", "ws_lasts", "time"], ["short", "ws_short_by", "flow"],
          ["refill", "ws_refill", "time"], ["running", "ws_refill_running", "time"]
        ],
        values: function (v) {
          var short = Math.max(v.use - v.supply, 0), spare = v.supply - v.use, found = {};
          if (short) { found.short = short; found.lasts = v.tank / short; }
          if (v.supply) found.refill = v.tank / v.supply;
          if (spare > 0) found.running = v.tank / spare;
          return found;
        },
        say: function (v, f) { return [f.lasts ? "ws_say_low_water" : "ws_say_never_dry"]; }
      },
      bucket: {
        rows: [
          ["flow", "ws_supply", "flow"], ["short", "ws_short_by", "flow"],
          ["spare", "ws_spare", "flow"]
        ],
        values: function (v) {
          var found = { flow: v.bucket / v.time };
          if (given(v.use)) {
            if (v.use > found.flow) found.short = v.use - found.flow;
            else found.spare = found.flow - v.use;
          }
          return found;
        },
        say: function (v, f) { return (f.short ? ["ws_say_buffer"] : []).concat("ws_say_at_hose_end"); }
      },
      gap: {
        rows: [["gap", "ws_gap", "small length"]],
        values: function (v) { return { gap: m.airGap(v.fill, v.wall === "yes") }; },
        say: function () { return ["ws_say_gap"]; }
      },
      glycol: {
        rows: [
          ["first", "ws_in_first_hose", "volume"], ["second", "ws_in_other_hose", "volume"],
          ["total", "ws_together", "volume"]
        ],
        values: function (v) {
          var found = { first: m.pipeVolume(v.bore, v.length) };
          if (given(v.bore2)) {
            found.second = m.pipeVolume(v.bore2, given(v.length2) ? v.length2 : v.length);
          }
          found.total = found.first + (found.second || 0) + v.other;
          return found;
        },
        say: function () { return ["ws_say_buy_more"]; }
      },
      mix: {
        rows: [
          ["strength", "ws_mixed", "share"], ["freezes", "ws_freezes", "temperature"],
          ["neat", "ws_neat_freezes", "temperature"], ["needed", "ws_strength_needed", "share"]
        ],
        values: function (v) {
          var found = { strength: v.put * v.strength / (v.put + v.left) };
          found.freezes = m.freezingPoint(found.strength);
          if (v.strength <= k.strongest) found.neat = m.freezingPoint(v.strength);
          if (given(v.cold)) found.needed = m.strengthFor(v.cold);
          return found;
        },
        say: function (v, f) {
          return (f.strength < f.needed ? ["ws_say_too_weak"] : []).concat("ws_say_burst_rating");
        }
      },
      suction: {
        rows: [
          ["lost", "ws_head_lost", "head"], ["left", "ws_head_left", "head"],
          ["npsh", "ws_npsh", "head"]
        ],
        values: function (v) {
          var hose = straight(v.bore, v.length, v.roughness);
          var lost = m.lossHead(hose, v.flow, m.waterAt(v.water), v.fittings);
          return {
            lost: lost, left: v.height - lost, npsh: m.suctionHead(v.height, lost, v.water, v.up)
          };
        },
        say: function (v, f) {
          return [f.left < 0 ? "ws_say_starves" : f.left < v.height / 2 ?
            "ws_say_barely" : "ws_say_feeds", "ws_say_suction"];
        }
      },
      outlet: {
        rows: [["flow", "ws_most_flow", "flow"]],
        values: function (v) {
          return { flow: m.outletFlow(v.volts, v.amps, v.pressure, v.motor, v.pump, v.factor) };
        },
        say: function () { return ["ws_say_outlet"]; }
      },
      sheaves: {
        rows: [
          ["speed", "ws_pump_speed", "turning"], ["belt", "ws_belt", "belt"],
          ["newDriven", "ws_driven_for", "small length"],
          ["newDriver", "ws_driver_for", "small length"]
        ],
        values: function (v) {
          var found = {
            speed: v.engine * v.driver / v.driven, belt: Math.PI * v.driver * v.engine
          };
          if (given(v.wanted)) {
            found.newDriven = v.driver * v.engine / v.wanted;
            found.newDriver = v.driven * v.wanted / v.engine;
          }
          return found;
        },
        say: function () { return ["ws_say_sheaves"]; }
      },
      altitude: {
        rows: [
          ["cautious", "ws_rule_cautious", "share"], ["mild", "ws_rule_mild", "share"],
          ["air", "ws_rule_air", "share"], ["heat", "ws_heat_left", "share"],
          ["gainCautious", "ws_gain_cautious", "share"], ["gainMild", "ws_gain_mild", "share"],
          ["gainAir", "ws_gain_air", "share"]
        ],
        values: function (v) {
          var found = m.altitudeShares(v.up), there;
          if (given(v.air)) found.heat = m.heatShare(v.air, v.fuel);
          if (given(v.to)) {
            there = m.altitudeShares(v.to);
            found.gainCautious = there.cautious - found.cautious;
            found.gainMild = there.mild - found.mild;
            found.gainAir = there.air - found.air;
          }
          return found;
        },
        say: function () { return ["ws_say_altitude"]; }
      },
      cap: {
        rows: [["pressure", "ws_cap_pressure", "pressure"], ["push", "ws_cap_push", "force"]],
        values: function (v) {
          var pressure = m.headPressure(v.height, 1000);
          return { pressure: pressure, push: pressure * Math.PI / 4 * v.bore * v.bore };
        },
        say: function () { return ["ws_say_cap"]; }
      },
      culvert: {
        rows: [
          ["soil", "ws_soil_volume", "soil"], ["loose", "ws_soil_volume", "loose"],
          ["mass", "ws_soil_mass", "mass"], ["water", "ws_water_to_wash", "volume"],
          ["time", "ws_time_to_wash", "time"]
        ],
        values: function (v) {
          var soil = m.pipeVolume(v.bore, v.length) * v.filled;
          var water = soil * (1 - v.solids) / v.solids;
          return {
            soil: soil, loose: soil, mass: soil * v.soil, water: water, time: water / v.flow
          };
        },
        say: function () { return ["ws_say_culvert", "ws_say_flow_carries"]; }
      },
      volume: {
        rows: [
          ["volume", "ws_holds", "volume"], ["loose", "ws_holds", "loose"],
          ["mass", "ws_weighs", "mass"]
        ],
        values: function (v) {
          if (given(v.bore) === (given(v.width) && given(v.depth))) m.refuse("ws_round_or_box");
          var volume = given(v.bore) ? m.pipeVolume(v.bore, v.length) : v.width * v.depth * v.length;
          return { volume: volume, loose: volume, mass: volume * 1000 };
        },
        say: function () { return ["ws_say_weight"]; }
      },
      run: {
        rows: [
          ["time", "ws_time_both_ways", "time"], ["water", "ws_water_used", "volume"],
          ["perTank", "ws_per_tank", "length"]
        ],
        values: function (v) {
          var time = v.length / v.out + v.length / v.back, found = { time: time };
          found.water = time * v.flow;
          if (given(v.tank)) found.perTank = v.tank / ((1 / v.out + 1 / v.back) * v.flow);
          return found;
        },
        say: function () { return ["ws_say_run"]; }
      },
      turn: {
        rows: [["least", "ws_least_stiff", "small length"], ["careful", "ws_careful_stiff", "small length"]],
        values: function (v) { return { least: v.bore, careful: k.careful * v.bore }; },
        say: function (v, f) {
          return [v.stiff < v.bore ? "ws_say_turns" : v.stiff < f.careful ?
            "ws_say_may_turn" : "ws_say_cannot_turn"];
        }
      }
    };

    // The numbers of a sum with their margins; throws like any formula.
    function answer(id, values, fields) {
      var one = sums[id], fixed = one.fixed || {}, swings = [], all = m.replaced(values, {});
      function moved(name, to) {
        var changes = {};
        changes[name] = to;
        return m.attempt(function () { return one.values(m.replaced(all, changes)); });
      }
      Object.keys(fixed).forEach(function (name) { all[name] = fixed[name][0]; });
      var found = one.values(all);
      Object.keys(fixed).forEach(function (name) {
        swings.push([name, [moved(name, fixed[name][1]), moved(name, fixed[name][2])]]);
      });
      fields.forEach(function (field) {
        var value = all[field.id], off = field.off, ends;
        if (!off || typeof value !== "number") return;
        ends = off[0] === "share" ? [value * (1 - off[1]), value * (1 + off[2])] :
          off[0] === "shift" ? [value - off[1], value + off[2]] :
          [Math.min(value, off[1]), Math.max(value, off[2])];
        swings.push([field.word, ends.map(function (end) {
          end = Math.max(end, field.low || 0);
          return moved(field.id, field.high === undefined ? end : Math.min(end, field.high));
        })]);
      });
      swings.forEach(function (swing) { swing[1] = swing[1].filter(Boolean); });
      return { values: found, margins: m.combined(found, swings), rows: one.rows, say: one.say(all, found) };
    }
    return { answer: answer, all: sums };
  };
})(window.refgenSheet = window.refgenSheet || {});
