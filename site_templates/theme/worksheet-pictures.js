// Pictures of a working point, drawn from its numbers: the pressure walk from pump to nozzle, what
// hose and nozzle ask for against flow, and the pipe part full. The page holds the empty drawings.
const LEFT = 8,
  RIGHT = 332,
  TOP = 26,
  FOOT = 172;
const KINDS = {
  gauge: "pressure",
  nozzle: "pressure",
  lost: "pressure",
  flow: "flow",
  depth: "small length",
  bore: "small length",
  speed: "speed"
};

// Sets one part of a drawing: `d` of a path, or y and text of a label; hides it where there is none.
function part(picture, name, d) {
  const path = picture.querySelector("." + name);
  path.setAttribute("d", d || "M0 0");
  path.toggleAttribute("hidden", !d);
}
function label(picture, name, text, y) {
  const found = picture.querySelector("text." + name);
  found.textContent = text;
  if (y !== undefined) found.setAttribute("y", y);
}
function lineOf(points) {
  return points
    .map(([x, y, fresh], i) => (fresh || !i ? "M" : "L") + x.toFixed(1) + " " + y.toFixed(1))
    .join("");
}
function level(picture, name, word, pressure, y) {
  part(
    picture,
    name,
    pressure &&
      lineOf([
        [LEFT, y(pressure)],
        [RIGHT, y(pressure)]
      ])
  );
  label(
    picture,
    name,
    pressure ? say(word, { at: both(pressure, "pressure")[0] }) : "",
    pressure && y(pressure) - 5
  );
}
function tell(picture, word, values) {
  for (const name in values) values[name] = both(values[name], KINDS[name])[0];
  picture.setAttribute("aria-label", say(word, values));
}
function drawWalk(picture, rig, duty, ceiling) {
  const limit = limitOf(rig.pump),
    most = max(limit, duty.nozzle, ceiling || 0) * 1.1;
  const length = sum(rig.hoses, hose => hose.length) || 1,
    end = RIGHT - 60;
  const y = pressure => FOOT - ((FOOT - TOP) * pressure) / most;
  const head = duty.nozzle + duty.hose_loss - duty.gauge,
    points = [[LEFT + 20, y(duty.gauge)]];
  let x = LEFT + 20,
    now = duty.gauge;
  rig.hoses.forEach((hose, i) => {
    x += ((end - LEFT - 20) * hose.length) / length;
    now += (head * hose.length) / length - duty.losses[i];
    points.push([x, y(now)]);
  });
  part(picture, "main", lineOf([...points, [end, y(duty.nozzle)], [end, FOOT]]));
  level(picture, "limit", "ws_limit", limit, y);
  level(picture, "ceiling", "ws_ceiling_at", ceiling, y);
  label(picture, "from", say("ws_pump_at", { at: both(duty.gauge, "pressure")[0] }));
  label(picture, "to", say("ws_nozzle_at", { at: both(duty.nozzle, "pressure")[0] }));
  tell(picture, "ws_walk_told", { gauge: duty.gauge, lost: duty.hose_loss, nozzle: duty.nozzle });
}

function drawCurves(picture, rig, duty) {
  const limit = limitOf(rig.pump),
    water = waterAt(rig.temperature),
    area = totalArea(rig.jets);
  const most = limit * 1.15,
    widest = rig.pump.flow * 1.06,
    head = water.density * k.gravity * rig.below;
  const x = flow => LEFT + ((RIGHT - LEFT) * flow) / widest;
  const y = pressure => FOOT - ((FOOT - TOP) * pressure) / most;
  const curve = of => {
    const points = [];
    let fresh = true;
    for (let i = 1; i <= 48 && area; i += 1) {
      const flow = (rig.pump.flow * i) / 48,
        pressure = attempt(() => of(flow));
      const there = pressure !== null && pressure <= most && pressure >= 0;
      if (there) points.push([x(flow), y(pressure), fresh]);
      fresh = !there;
    }
    return lineOf(points);
  };
  const path = area ? flowPath(rig.hoses, area, water) : null;
  part(
    picture,
    "main",
    curve(flow => path.demand(flow) - head)
  );
  part(
    picture,
    "hose",
    curve(flow => path.demand(flow) - path.nozzle(flow))
  );
  level(picture, "limit", "ws_limit", limit, y);
  part(picture, "dot", "M" + x(duty.flow) + " " + y(duty.gauge) + "h.01");
  label(picture, "to", both(rig.pump.flow, "flow")[0]);
  tell(picture, "ws_curves_told", { flow: duty.flow, gauge: duty.gauge });
}

function drawPipe(picture, found, bore) {
  const r = 78,
    depth = found ? found.depth_ratio : 0.999,
    y = 178 - 2 * r * depth;
  const across = r * sqrt(1 - pow(1 - 2 * depth, 2));
  part(
    picture,
    "water",
    "M" +
      (100 - across) +
      " " +
      y +
      "A78 78 0 " +
      (depth > 0.5 ? 1 : 0) +
      " 0 " +
      (100 + across) +
      " " +
      y +
      "Z"
  );
  if (found)
    tell(picture, "ws_depth_told", { depth: depth * bore, bore: bore, speed: found.velocity });
  else picture.setAttribute("aria-label", w.ws_runs_full);
}
