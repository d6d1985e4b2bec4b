// The hydraulics of the worksheet: the functions of refgen/hydraulics, under the same names and in
// the same order. Pure functions of SI numbers; constants and ranges come from the Python side (k).
// A formula that does not hold throws a Refusal, with the word that tells a person why.
const PI = Math.PI,
  sqrt = Math.sqrt,
  pow = Math.pow,
  exp = Math.exp,
  log = Math.log;
const cos = Math.cos,
  sin = Math.sin,
  min = Math.min,
  max = Math.max,
  abs = Math.abs;
const TWO_OVER_LN_10 = 2 / log(10);

// ---- ranges
function Refusal(word, values) {
  this.word = word;
  this.values = values;
}
function refuse(word, values) {
  throw new Refusal(word, values);
}
function require(value, low, high = Infinity) {
  if (!(isFinite(value) && low <= value && value <= high)) refuse("ws_no_formula");
}
function ranged(what, value) {
  require(value, k.ranges[what][0], k.ranges[what][1] ?? Infinity);
}
function positive(value) {
  if (!(isFinite(value) && value > 0)) refuse("ws_no_formula");
}
// What a function gives, or null where it refuses.
function attempt(run) {
  try {
    return run();
  } catch (error) {
    if (error instanceof Refusal) return null;
    throw error;
  }
}
function sum(list, of) {
  return list.reduce((total, item) => total + of(item), 0);
}

// ---- water
function waterAt(temperature) {
  if (!(k.coldest <= temperature && temperature <= k.hottest)) refuse("ws_no_water");
  const series = (terms, x) => sum(terms, term => term[0] * pow(x, term[1]));
  const volume =
    k.volume + series(k.alpha, 10 / (593 - temperature)) + series(k.beta, 10 / (temperature - 232));
  return {
    density: 0.1e6 / (461.51805 * 10 * volume),
    viscosity: 1e-6 * series(k.viscosity, temperature / 300)
  };
}

// ---- orifice
function areaOfBore(bore, coefficient) {
  return ((coefficient * PI) / 4) * bore * bore;
}
function areaOfNumber(number) {
  return number * k.areaOfOne;
}
function numberOfArea(area) {
  return area / k.areaOfOne;
}
function totalArea(jets) {
  return sum(jets, jet => jet.count * jet.area);
}
function pressureFor(flow, area, density) {
  return (density / 2) * pow(flow / area, 2);
}
function areaFor(flow, pressure, density) {
  return flow / sqrt((2 * pressure) / density);
}
function jetSpeed(pressure, density, cv) {
  return cv * sqrt((2 * pressure) / density);
}
function reaction(flow, speed, density) {
  return density * flow * speed;
}

// ---- hose
function checkSegment(hose) {
  positive(hose.bore);
  require(hose.length, 0);
  ranged("rough", hose.roughness / hose.bore);
  if (!(0 <= hose.onReel && hose.onReel <= hose.length)) refuse("ws_reel_longer");
  if (hose.onReel) {
    if (hose.reel === null) refuse("ws_reel_needs");
    positive(hose.reel);
    ranged("coil", hose.bore / hose.reel);
  }
}
function turbulentFactor(reynolds, roughnessTerm) {
  const slope = 2.51 / reynolds;
  let x = -TWO_OVER_LN_10 * log(roughnessTerm + slope * 7);
  for (let step = 0; step < 3; step += 1) {
    const inner = roughnessTerm + slope * x;
    x -= (x + TWO_OVER_LN_10 * log(inner)) / (1 + (TWO_OVER_LN_10 * slope) / inner);
  }
  return 1 / (x * x);
}
function coilTerms(ratio) {
  return [28800 * pow(ratio, 0.62), 0.0823 * (1 + ratio) * pow(ratio, 0.53)];
}
function pressureLoss(hose, flow, water) {
  checkSegment(hose);
  require(flow, 0);
  return flow && hose.length ? loss(resistance(hose, water), flow) : 0;
}

// ---- resistance: one hose for one water, with all that does not depend on the flow worked out
function resistance(hose, water) {
  let low = 0,
    high = 0;
  if (hose.onReel && hose.reel) {
    const share = hose.onReel / hose.length;
    [low, high] = coilTerms(hose.bore / hose.reel).map(term => share * term);
  }
  return {
    perFlow: (4 * water.density) / (PI * hose.bore * water.viscosity),
    rough: hose.roughness / (3.7 * hose.bore),
    straight: (8 * water.density * hose.length) / (PI * PI * pow(hose.bore, 5)),
    low: low,
    high: high
  };
}
function loss(segment, flow) {
  const reynolds = segment.perFlow * flow;
  if (
    reynolds >= k.turbulentFrom &&
    !(segment.high && !(k.coilFrom <= reynolds && reynolds <= k.coilTo))
  ) {
    const lost = turbulentFactor(reynolds, segment.rough) * segment.straight * flow * flow;
    if (!segment.high) return lost;
    if (reynolds < k.coilStep) return lost * (1 + segment.low / reynolds);
    return lost * (1 + segment.high * pow(reynolds, 0.25));
  }
  const word = gap(segment, reynolds);
  if (word) refuse(word);
  return (64 / segment.perFlow) * segment.straight * flow;
}
function gap(segment, reynolds) {
  if (segment.high) {
    if (0 < reynolds && reynolds < k.coilFrom) return "ws_no_coil_below";
    return reynolds > k.coilTo ? "ws_no_coil_above" : "";
  }
  return k.laminarTo < reynolds && reynolds < k.turbulentFrom ? "ws_no_friction" : "";
}
function covered(segment) {
  const unit = 1 / segment.perFlow,
    above = 1 + k.inside,
    below = 1 - k.inside;
  if (segment.high) return [[k.coilFrom * unit * above, k.coilTo * unit * below]];
  return [
    [0, k.laminarTo * unit * below],
    [k.turbulentFrom * unit * above, Infinity]
  ];
}

// Two numbers side by side, or within `least`, of which the test holds for the lower alone.
function bisect(low, high, holds, least = 0) {
  while (high - low > least) {
    const middle = (low + high) / 2;
    if (middle <= low || middle >= high) break;
    if (holds(middle)) low = middle;
    else high = middle;
  }
  return [low, high];
}

// ---- flow path: pressure from flow, and flow from pressure
function flowPath(hoses, area, water) {
  const perFlow = water.density / 2 / (area * area);
  const segments = hoses.map(hose => resistance(hose, water));
  const nozzle = flow => perFlow * flow * flow;
  const losses = flow => segments.map(segment => loss(segment, flow));
  const demand = flow => {
    let total = nozzle(flow);
    for (const segment of segments) total += loss(segment, flow);
    return total;
  };
  // The secant in logarithms; null if it does not settle quickly.
  const approach = (target, from, start) => {
    let flow = from,
      taken = start,
      slope = 1.8 + 0.2 * (nozzle(flow) / taken);
    for (let pass = 0; pass < 10; pass += 1) {
      const step = log(target / taken) / slope,
        before = taken;
      flow *= exp(step);
      taken = demand(flow);
      if (abs(taken - target) <= k.close * target) return [flow, target];
      if (step) slope = min(max(log(taken / before) / step, 1), 2.5);
    }
    return null;
  };
  const spans = most =>
    segments.reduce(
      (found, segment) =>
        found
          .flatMap(span =>
            covered(segment).map(other => [max(span[0], other[0]), min(span[1], other[1])])
          )
          .filter(span => span[0] <= span[1]),
      [[0, most]]
    );
  const searchSpans = (target, most) => {
    let above = most;
    for (const [low, high] of spans(most).reverse()) {
      if (demand(high) <= target) break;
      const within = flow => demand(flow) <= target;
      if (within(low)) return [bisect(low, high, within)[0], target];
      above = low;
    }
    const words = [above, above * (1 - 1e-9)].flatMap(flow =>
      segments.map(segment => gap(segment, segment.perFlow * flow))
    );
    return refuse(words.find(Boolean) || "ws_no_flow_fits");
  };
  // The flow that takes the pressure `target`, or `most` if even that takes less; and what it takes.
  const flowAt = (target, most) =>
    attempt(() => {
      const taken = demand(most);
      return taken <= target ? [most, taken] : approach(target, most, taken);
    }) || searchSpans(target, most);
  return {
    area: area,
    nozzle: nozzle,
    losses: losses,
    demand: demand,
    flowAt: flowAt,
    reynolds: flow => segments.map(segment => segment.perFlow * flow)
  };
}

// ---- duty: the working point. A rig is {temperature, pump: {flow, pressure, unloader}, hoses:
// [{bore, length, roughness, onReel, reel}], jets: [{count, area, angle, faces, byNumber}],
// cv, below}; null stands for what is not there.
function limitOf(pump) {
  return min(pump.pressure, pump.unloader ?? Infinity);
}
function workingPoint(rig) {
  const pump = rig.pump;
  positive(pump.flow);
  positive(pump.pressure);
  positive(pump.unloader ?? 1);
  positive(rig.cv);
  ranged("cv", rig.cv);
  ranged("below", rig.below);
  rig.hoses.forEach(checkSegment);
  for (const jet of rig.jets) {
    ranged("count", jet.count);
    positive(jet.area);
    ranged("angle", jet.angle);
  }
  const water = waterAt(rig.temperature),
    limit = limitOf(pump);
  const head = water.density * k.gravity * rig.below,
    target = limit + head;
  if (target <= 0) refuse("ws_cannot_lift");
  const area = totalArea(rig.jets);
  if (area === 0) return dutyOf(rig, water, 0, limit, target, null);
  const path = flowPath(rig.hoses, area, water);
  const [flow, demand] = path.flowAt(target, pump.flow);
  if (flow < pump.flow) return dutyOf(rig, water, flow, limit, target, path);
  if (demand - head < 0) refuse("ws_runs_by_itself");
  return dutyOf(rig, water, flow, demand - head, demand, path);
}
function dutyOf(rig, water, flow, gauge, demand, path) {
  const none = () => 0;
  let nozzle = demand,
    along = 0,
    note = path ? "" : "ws_all_plugged";
  let losses = rig.hoses.map(none),
    reynolds = losses,
    flows = rig.jets.map(none);
  if (path) {
    if (rig.hoses.length) nozzle = path.nozzle(flow);
    losses = path.losses(flow);
    reynolds = path.reynolds(flow);
    flows = rig.jets.map(jet => jet.count * jet.area * (flow / path.area));
    rig.hoses.forEach((hose, i) => {
      if (hose.onReel && reynolds[i] > k.coilPublishedTo) note = "ws_coil_note";
    });
  }
  const speed = jetSpeed(nozzle, water.density, rig.cv);
  rig.jets.forEach((jet, i) => {
    const part = flows[i] * cos(jet.angle);
    along += jet.faces === "rear" ? part : -part;
  });
  return {
    full: flow === rig.pump.flow,
    flow: flow,
    gauge: gauge,
    hose_loss: max(demand - nozzle, 0),
    nozzle: nozzle,
    bypass: rig.pump.flow - flow,
    jet_velocity: speed,
    pull: water.density * speed * along,
    jet_power: nozzle * flow,
    flows: flows,
    reynolds: reynolds,
    losses: losses,
    note: note
  };
}

// ---- variation: a rig with one input at the end of its width (side −1 or +1), in the order of
// `causes`; most are off by a share
function jetsVaried(rig, byNumber, share) {
  return {
    ...rig,
    jets: rig.jets.map(jet =>
      jet.byNumber === byNumber ? { ...jet, area: jet.area * share } : jet
    )
  };
}
function hosesVaried(rig, vary) {
  return { ...rig, hoses: rig.hoses.map(hose => ({ ...hose, ...vary(hose) })) };
}
const VARY = [
  (rig, share) => jetsVaried(rig, false, share),
  (rig, share) => jetsVaried(rig, true, share),
  (rig, share) => ({ ...rig, cv: min(rig.cv * share, 1) }),
  (rig, share) => hosesVaried(rig, hose => ({ bore: hose.bore * share })),
  (rig, share, side, ends) =>
    hosesVaried(rig, hose => ({
      roughness: side < 0 ? min(hose.roughness, ends[0]) : max(hose.roughness, ends[1])
    })),
  (rig, share, side) =>
    hosesVaried(rig, hose =>
      side < 0 ? hose : { length: hose.length * share, onReel: hose.onReel * share }
    ),
  (rig, share) =>
    hosesVaried(rig, hose => {
      if (!hose.reel) return hose;
      const ratio = hose.bore / hose.reel;
      let sought = ratio;
      for (let pass = 0; pass < 6; pass += 1) {
        sought = ratio * pow((share * (1 + ratio)) / (1 + sought), 1 / 0.53);
      }
      return { reel: hose.bore / sought };
    }),
  (rig, share) => ({ ...rig, pump: { ...rig.pump, flow: rig.pump.flow * share } }),
  (rig, share) => {
    const pump = rig.pump;
    return {
      ...rig,
      pump: {
        ...pump,
        pressure: pump.pressure * share,
        unloader: pump.unloader && pump.unloader * share
      }
    };
  },
  (rig, share, side, width) => ({
    ...rig,
    temperature: min(max(rig.temperature + side * width, k.coldest), k.hottest)
  })
];

// ---- margin: one input at a time, combined as the root of the sum of squares, side by side.
// `swings` is [[cause, [numbers, …]], …], each `numbers` a map of name to value.
function combined(values, swings) {
  const found = {};
  for (const name in values) {
    if (typeof values[name] !== "number") continue;
    const below = [],
      above = [];
    let most = 0,
      blamed = "";
    for (const [cause, varied] of swings) {
      const shifts = varied.map(numbers => numbers[name] - values[name]).filter(isFinite);
      const low = max(0, ...shifts.map(shift => -shift)),
        high = max(0, ...shifts);
      below.push(low);
      above.push(high);
      if (max(low, high) > most) {
        most = max(low, high);
        blamed = cause;
      }
    }
    found[name] = { lower: Math.hypot(...below), upper: Math.hypot(...above), cause: blamed };
  }
  return found;
}
// The flow area that a gauge reading tells. A reading is {rig, gauge, error, flow}, flow null for all
// of the pump's; its rig's jets have no part.
function areaRead(reading) {
  return areaBehind(reading.rig, reading.flow ?? reading.rig.pump.flow, reading.gauge);
}
// A rig with one input moved. Where a reading sized its jets, the input was off in the reading too,
// and sizes them anew; only the water is that of the day.
const OFF_GAUGE = 8,
  OF_THE_DAY = 9;
function moved(rig, input, side) {
  const width = k.widths[rig.reading ? 1 : 0][input],
    vary = rig => VARY[input](rig, 1 + side * width, side, width),
    varied = vary(rig),
    reading = rig.reading;
  if (!reading || input === OF_THE_DAY) return varied;
  const again = {
    ...reading,
    rig: vary(reading.rig),
    gauge: reading.gauge + (input === OFF_GAUGE ? side * reading.error : 0)
  };
  const share = areaRead(again) / areaRead(reading);
  return jetsVaried(jetsVaried(varied, true, share), false, share);
}
// The duty, with `margins` and what was `left_out`; `more`, if given, adds numbers to each duty.
function solve(rig, more = () => ({})) {
  const whole = varied => {
    const duty = workingPoint(varied);
    return { ...duty, ...more(varied, duty) };
  };
  const duty = whole(rig),
    left = [];
  const swings = k.causes.map((cause, i) => [
    cause,
    [-1, 1]
      .map(side => {
        const varied = attempt(() => whole(moved(rig, i, side)));
        if (!varied) left.push(cause);
        return varied;
      })
      .filter(Boolean)
  ]);
  return { ...duty, margins: combined(duty, swings), left_out: left };
}

// ---- open channel and transport
const ANGLE_FULL = 2 * Math.acos(1 - 2 * k.fullFrom);
function section(angle, diameter) {
  const area = ((diameter * diameter) / 8) * (angle - sin(angle));
  return [area, angle ? area / ((diameter / 2) * angle) : 0];
}
function conveyance(angle, diameter) {
  const [area, radius] = section(angle, diameter);
  return area * pow(radius, 2 / 3);
}
function partFull(flow, diameter, slope, n) {
  positive(flow);
  positive(diameter);
  positive(slope);
  ranged("slope", slope);
  ranged("n", n);
  const wanted = (flow * n) / sqrt(slope),
    short = angle => conveyance(angle, diameter) < wanted;
  if (short(ANGLE_FULL)) return null;
  const angle = bisect(0, ANGLE_FULL, short)[1],
    [area, radius] = section(angle, diameter);
  return {
    depth_ratio: (1 - cos(angle / 2)) / 2,
    velocity: flow / area,
    shear: k.shearDensity * k.gravity * radius * slope
  };
}
function thresholdShear(grain, water) {
  const lighter = k.quartz / water.density - 1,
    kinematic = water.viscosity / water.density;
  const size = grain * pow((k.gravity * lighter) / (kinematic * kinematic), 1 / 3);
  const shields = 0.3 / (1 + 1.2 * size) + 0.055 * (1 - exp(-0.02 * size));
  return shields * lighter * water.density * k.gravity * grain;
}
function largestGrainMoved(shear, water) {
  const moves = grain => thresholdShear(grain, water) <= shear;
  if (!moves(k.smallestGrain)) return 0;
  if (moves(k.largestGrain)) return k.largestGrain;
  return bisect(k.smallestGrain, k.largestGrain, moves, 1e-9)[0];
}

// ---- choice and setting
// The flow area that takes a flow, and all the pressure at the pump that its hoses leave.
function areaBehind(rig, flow, pressure) {
  const water = waterAt(rig.temperature);
  const left =
    pressure -
    sum(rig.hoses, hose => pressureLoss(hose, flow, water)) +
    water.density * k.gravity * rig.below;
  if (left <= 0) refuse("ws_hose_takes_all");
  return areaFor(flow, left, water.density);
}
function numbersBeside(number) {
  const steps = number / k.numberStep;
  return [Math.floor(steps + 1e-9), Math.ceil(steps - 1e-9)].map(step => step * k.numberStep);
}
function regulatorSetting(ceiling, error, overshoot, below, density, ratings) {
  const setting =
    (min(ceiling, ...ratings) - density * k.gravity * max(below, 0)) / (1 + overshoot) - error;
  if (setting <= 0) refuse("ws_nothing_to_set");
  return setting;
}

// ---- reach
function hoseWeight(dry, bore, density) {
  return (dry + ((density * PI) / 4) * bore * bore) * k.gravity;
}
function reach(pull, weight, friction, slope, bends) {
  positive(weight);
  const metre = weight * (friction * cos(slope) + sin(slope));
  if (metre <= 0) refuse("ws_runs_down");
  if (pull <= 0) return 0;
  let tension = 0,
    place = 0;
  for (const bend of bends) {
    const here = tension + metre * (bend.at - place);
    if (here > pull) break;
    tension = here * exp(friction * bend.angle);
    place = bend.at;
    if (tension > pull) return place;
  }
  return place + (pull - tension) / metre;
}

// ---- what the short sums need
function headPressure(height, density) {
  return density * k.gravity * height;
}
function pipeVolume(bore, length) {
  return (PI / 4) * bore * bore * length;
}
function altitudeShare(height, rule) {
  return rule === "cautious"
    ? 1 - (0.035 * height) / k.per1000Feet
    : rule === "mild"
      ? 1 - (0.03 * max(height - k.per1000Feet / 2, 0)) / k.per1000Feet
      : pow(1 - (0.0065 * height) / 288.15, 4.25588);
}
function heatShare(temperature, fuel) {
  return 1 - (0.01 * max(temperature - k.heat[fuel][0], 0)) / k.heat[fuel][1];
}
function between(x, points) {
  const right = points.findIndex(point => x <= point[0]) || 1;
  if (!(points[0][0] <= x && right > 0)) refuse("ws_no_freezing");
  const [a, b] = [points[right - 1], points[right]];
  return a[1] + ((b[1] - a[1]) * (x - a[0])) / (b[0] - a[0]);
}
function freezingPoint(strength) {
  return 273.15 + between(strength, k.freezing);
}
function strengthFor(temperature) {
  return between(
    temperature - 273.15,
    k.freezing.map(([share, point]) => [point, share]).reverse()
  );
}
function lossHead(hose, flow, water, fittings) {
  return (
    pressureLoss(hose, flow, water) / (water.density * k.gravity) +
    (fittings * pow(flow / ((PI / 4) * pow(hose.bore, 2)), 2)) / (2 * k.gravity)
  );
}
function vapourPressure(temperature) {
  return (
    k.criticalPressure *
    exp(
      (k.criticalTemperature / temperature) *
        sum(k.saturation, term => term[0] * pow(1 - temperature / k.criticalTemperature, term[1]))
    )
  );
}
function suctionHead(height, lost, temperature, altitude) {
  const air = 101325 * pow(1 - (0.0065 * altitude) / 288.15, 5.25588);
  return (
    (air - vapourPressure(temperature)) / (waterAt(temperature).density * k.gravity) + height - lost
  );
}
function airGap(bore, besideWall) {
  return max((besideWall ? 3 : 2) * bore, k.inch);
}
function hold(push) {
  return push > k.machineAbove
    ? "ws_hold_machine"
    : push > k.bracedAbove
      ? "ws_hold_body"
      : "ws_hold_hands";
}
