// The short sums: from the values of a sum's fields (SI, undefined where a field is empty) to the
// numbers it gives. `say` names the sentences that then apply; the page holds all of them.
function straight(v, bore = v.bore, length = v.length) {
  return { bore: bore, length: length, roughness: v.roughness, onReel: 0, reel: null };
}
const SUMS = {
  hose: {
    values: v => {
      const water = waterAt(v.water),
        height = headPressure(v.above, water.density);
      const lost = pressureLoss(straight(v), v.flow, water),
        left = v.gauge - lost - height;
      const other =
        v.bore2 && pressureLoss(straight(v, v.bore2, v.length2 ?? v.length), v.flow, water);
      return {
        lost: lost,
        height: height,
        total: lost + height,
        left: left,
        other: other,
        otherLeft: v.gauge - other - height,
        ratio: lost / other
      };
    },
    say: (v, f) => (f.left <= 0 || f.otherLeft <= 0 ? "ws_hose_takes_all" : "")
  },
  jet: {
    values: v => {
      const density = waterAt(k.standardWater).density,
        area = areaOfNumber(v.number);
      const known = [v.flow, v.pressure, v.number].filter(value => value !== undefined).length;
      const pressure = v.pressure ?? pressureFor(v.flow, area, density);
      const flow = v.flow ?? area * jetSpeed(pressure, density, 1);
      if (known > 2 || !isFinite(pressure)) refuse("ws_leave_one");
      const speed = jetSpeed(pressure, density, v.cv);
      return {
        pressure: pressure,
        flow: flow,
        number: numberOfArea(areaFor(flow, pressure, density)),
        speed: speed,
        push: reaction(flow, speed, density)
      };
    },
    say: (v, f) => (isFinite(f.push) ? hold(f.push) : "")
  },
  tank: {
    values: v => {
      const short = max(v.use - v.supply, 0),
        spare = max(v.supply - v.use, 0);
      return {
        lasts: v.tank / short,
        short: short,
        refill: v.tank / v.supply,
        running: v.tank / spare
      };
    },
    say: (v, f) => (f.short ? "" : "ws_say_never_dry")
  },
  bucket: {
    values: v => {
      const flow = v.bucket / v.time;
      return { flow: flow, short: max(v.use - flow, 0), spare: max(flow - v.use, 0) };
    },
    say: (v, f) => (f.short ? "ws_say_buffer" : "")
  },
  gap: { values: v => ({ gap: airGap(v.fill, v.wall === "yes") }) },
  glycol: {
    values: v => {
      const first = pipeVolume(v.bore, v.length);
      const second = v.bore2 && pipeVolume(v.bore2, v.length2 ?? v.length);
      return { first: first, second: second, total: first + (second || 0) + v.other };
    }
  },
  mix: {
    values: v => {
      const strength = (v.put * v.strength) / (v.put + v.left);
      return {
        strength: strength,
        freezes: freezingPoint(strength),
        neat: attempt(() => freezingPoint(v.strength)) ?? undefined,
        needed: v.cold === undefined ? undefined : strengthFor(v.cold)
      };
    },
    say: (v, f) => (f.strength < f.needed ? "ws_say_too_weak" : "")
  },
  suction: {
    values: v => {
      const lost = lossHead(straight(v), v.flow, waterAt(v.water), v.fittings);
      return {
        lost: lost,
        left: v.height - lost,
        npsh: suctionHead(v.height, lost, v.water, v.up)
      };
    },
    say: (v, f) => (f.left < 0 ? "ws_say_starves" : f.left < v.height / 2 ? "ws_say_barely" : "")
  },
  outlet: {
    values: v => ({ flow: (v.volts * v.amps * v.factor * v.motor * v.pump) / v.pressure })
  },
  sheaves: {
    values: v => ({
      speed: (v.engine * v.driver) / v.driven,
      belt: PI * v.driver * v.engine,
      newDriven: (v.driver * v.engine) / v.wanted,
      newDriver: (v.driven * v.wanted) / v.engine
    })
  },
  altitude: {
    values: v => {
      const found = { heat: v.air && heatShare(v.air, v.fuel) };
      for (const rule of ["cautious", "mild", "air"]) {
        found[rule] = altitudeShare(v.up, rule);
        found["gain-" + rule] =
          v.to === undefined ? undefined : altitudeShare(v.to, rule) - found[rule];
      }
      return found;
    }
  },
  cap: {
    values: v => {
      const pressure = headPressure(v.height, 1000);
      return { pressure: pressure, push: ((pressure * PI) / 4) * v.bore * v.bore };
    }
  },
  culvert: {
    values: v => {
      const soil = pipeVolume(v.bore, v.length) * v.filled,
        water = (soil * (1 - v.solids)) / v.solids;
      return { soil: soil, loose: soil, mass: soil * v.soil, water: water, time: water / v.flow };
    }
  },
  volume: {
    values: v => {
      const box = v.width * v.depth * v.length,
        round = v.bore && pipeVolume(v.bore, v.length);
      if (isFinite(box) === isFinite(round)) refuse("ws_round_or_box");
      const volume = isFinite(box) ? box : round;
      return { volume: volume, loose: volume, mass: volume * 1000 };
    }
  },
  run: {
    values: v => {
      const time = v.length / v.out + v.length / v.back;
      return {
        time: time,
        water: time * v.flow,
        perTank: v.tank / ((1 / v.out + 1 / v.back) * v.flow)
      };
    }
  },
  turn: {
    values: v => ({ least: v.bore, careful: k.careful * v.bore }),
    say: (v, f) =>
      v.stiff < v.bore ? "ws_say_turns" : v.stiff < f.careful ? "ws_say_may_turn" : "ws_say_cannot"
  }
};

// The numbers of a sum with their margins: each field moved by what it may be off, one at a time.
function sumUp(id, given, fields) {
  const one = SUMS[id],
    found = one.values(given);
  const swings = fields
    .filter(field => field.off && isFinite(given[field.id]))
    .map(field => {
      const value = given[field.id],
        [kind, less, more] = field.off;
      const ends =
        kind === "share"
          ? [value * (1 - less), value * (1 + more)]
          : kind === "shift"
            ? [value - less, value + more]
            : [min(value, less), max(value, more)];
      return [
        field.word,
        ends
          .map(end =>
            attempt(() =>
              one.values({
                ...given,
                [field.id]: min(max(end, field.low || 0), field.high ?? Infinity)
              })
            )
          )
          .filter(Boolean)
      ];
    });
  return {
    values: found,
    margins: combined(found, swings),
    say: one.say ? one.say(given, found) : ""
  };
}
