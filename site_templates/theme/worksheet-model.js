// The hydraulics of the worksheet: the functions of refgen/hydraulics, under the same names and in
// the same order. Pure functions of SI numbers. Constants and ranges come from the Python side
// (`k`). A formula that does not hold throws {refused: word}, where a person is told why.
(function (sheet) {
  "use strict";
  sheet.model = function (k) {
    var PI = Math.PI, sqrt = Math.sqrt, pow = Math.pow, exp = Math.exp, ln = Math.log;
    var TWO_OVER_LN_10 = 2 / ln(10);

    // ---- ranges
    function refuse(word, value) { throw { refused: word, value: value }; }
    function within(value, low, high) {
      if (!(isFinite(value) && low <= value && value <= high)) refuse("ws_no_formula", value);
    }
    function ranged(what, value) {
      var range = k.ranges[what];
      within(value, range[0], range[1] === null ? Infinity : range[1]);
    }
    function positive(value) { if (!(isFinite(value) && value > 0)) refuse("ws_no_formula", value); }
    function sum(list, of) {
      return list.reduce(function (total, item) { return total + of(item); }, 0);
    }

    // ---- water
    function waterAt(temperature) {
      if (!(k.coldest <= temperature && temperature <= k.hottest)) refuse("ws_no_water", temperature);
      var alpha = 10 / (593 - temperature), beta = 10 / (temperature - 232);
      function series(terms, x) {
        return sum(terms, function (t) { return t[0] * pow(x, t[1]); });
      }
      var volume = k.volume + series(k.alpha, alpha) + series(k.beta, beta);
      return {
        density: 0.1e6 / (461.51805 * 10 * volume),
        viscosity: 1e-6 * series(k.viscosity, temperature / 300)
      };
    }

    // ---- orifice
    function areaOfBore(bore, coefficient) { return coefficient * PI / 4 * bore * bore; }
    function areaOfNumber(number) { return number * k.areaOfOne; }
    function numberOfArea(area) { return area / k.areaOfOne; }
    function totalArea(jets) { return sum(jets, function (j) { return j.count * j.area; }); }
    function pressureFor(flow, area, density) { return density / 2 * pow(flow / area, 2); }
    function areaFor(flow, pressure, density) { return flow / sqrt(2 * pressure / density); }
    function flowThrough(area, pressure, density) { return area * sqrt(2 * pressure / density); }
    function jetSpeed(pressure, density, cv) {
      return (cv === undefined ? 1 : cv) * sqrt(2 * pressure / density);
    }
    function reaction(flow, speed, density) { return density * flow * speed; }
    function boreEach(area, count, coefficient) {
      return sqrt(4 * area / (PI * count * coefficient));
    }

    // ---- hose
    function checkSegment(hose) {
      positive(hose.bore);
      within(hose.length, 0, Infinity);
      ranged("roughness over bore of a hose [-]", hose.roughness / hose.bore);
      if (!(0 <= hose.onReel && hose.onReel <= hose.length)) refuse("ws_reel_longer");
      if (hose.onReel) {
        if (hose.reel === null) refuse("ws_reel_needs");
        positive(hose.reel);
        ranged("bore over reel diameter [-]", hose.bore / hose.reel);
      }
    }
    function turbulentFactor(reynolds, roughnessTerm) {
      var slope = 2.51 / reynolds, inner;
      var x = -TWO_OVER_LN_10 * ln(roughnessTerm + slope * 7);
      for (var step = 0; step < 3; step += 1) {
        inner = roughnessTerm + slope * x;
        x -= (x + TWO_OVER_LN_10 * ln(inner)) / (1 + TWO_OVER_LN_10 * slope / inner);
      }
      return 1 / (x * x);
    }
    function coilTerms(ratio) {
      return [28800 * pow(ratio, 0.62), 0.0823 * (1 + ratio) * pow(ratio, 0.53)];
    }

    // ---- resistance: one hose for one water, with all that does not depend on the flow worked out
    function resistance(hose, water) {
      var terms = [0, 0], share;
      if (hose.onReel && hose.reel !== null) {
        share = hose.onReel / hose.length;
        terms = coilTerms(hose.bore / hose.reel).map(function (term) { return share * term; });
      }
      return {
        perFlow: 4 * water.density / (PI * hose.bore * water.viscosity),
        rough: hose.roughness / (3.7 * hose.bore),
        straight: 8 * water.density * hose.length / (PI * PI * pow(hose.bore, 5)),
        low: terms[0],
        high: terms[1]
      };
    }
    function loss(segment, flow) {
      var reynolds = segment.perFlow * flow, lost;
      if (reynolds >= k.turbulentFrom &&
          !(segment.high && !(k.coilFrom <= reynolds && reynolds <= k.coilTo))) {
        lost = turbulentFactor(reynolds, segment.rough) * segment.straight * flow * flow;
        if (!segment.high) return lost;
        if (reynolds < k.coilStep) return lost * (1 + segment.low / reynolds);
        return lost * (1 + segment.high * pow(reynolds, 0.25));
      }
      var word = gap(segment, reynolds);
      if (word) refuse(word);
      return 64 / segment.perFlow * segment.straight * flow;
    }
    function gap(segment, reynolds) {
      if (segment.high) {
        if (0 < reynolds && reynolds < k.coilFrom) return "ws_no_coil_below";
        if (reynolds > k.coilTo) return "ws_no_coil_above";
      } else if (k.laminarTo < reynolds && reynolds < k.turbulentFrom) {
        return "ws_no_friction";
      }
      return "";
    }
    function covered(segment) {
      var unit = 1 / segment.perFlow;
      if (segment.high) {
        return [[k.coilFrom * unit * (1 + k.inside), k.coilTo * unit * (1 - k.inside)]];
      }
      return [
        [0, k.laminarTo * unit * (1 - k.inside)],
        [k.turbulentFrom * unit * (1 + k.inside), Infinity]
      ];
    }
    function pressureLoss(hose, flow, water) {
      checkSegment(hose);
      within(flow, 0, Infinity);
      return flow && hose.length ? loss(resistance(hose, water), flow) : 0;
    }

    // ---- flow path: pressure from flow, and flow from pressure
    function FlowPath(hoses, area, water) {
      this.area = area;
      this.perFlow = water.density / 2 / (area * area);
      this.segments = hoses.map(function (hose) { return resistance(hose, water); });
    }
    FlowPath.prototype = {
      nozzle: function (flow) { return this.perFlow * flow * flow; },
      losses: function (flow) {
        return this.segments.map(function (segment) { return loss(segment, flow); });
      },
      demand: function (flow) {
        var total = this.perFlow * flow * flow;
        for (var i = 0; i < this.segments.length; i += 1) total += loss(this.segments[i], flow);
        return total;
      },
      // The flow that takes the pressure `target`, or `most` if even that takes less; and what it
      // takes.
      flowAt: function (target, most) {
        var flow = null, demand;
        try {
          demand = this.demand(most);
          if (demand <= target) return [most, demand];
          flow = this.approach(target, most, demand);
        } catch (error) {
          if (!error || !error.refused) throw error;
          flow = null;
        }
        return flow === null ? this.searchSpans(target, most) : [flow, target];
      },
      // The secant in logarithms; null if it does not settle quickly.
      approach: function (target, flow, demand) {
        var slope = 1.8 + 0.2 * (this.perFlow * flow * flow / demand), step, before;
        for (var pass = 0; pass < 10; pass += 1) {
          step = ln(target / demand) / slope;
          flow *= exp(step);
          before = demand;
          demand = this.demand(flow);
          if (Math.abs(demand - target) <= k.close * target) return flow;
          if (step) slope = Math.min(Math.max(ln(demand / before) / step, 1), 2.5);
        }
        return null;
      },
      searchSpans: function (target, most) {
        var spans = this.spans(most).reverse(), above = null;
        for (var i = 0; i < spans.length; i += 1) {
          if (this.demand(spans[i][1]) <= target) break;
          if (this.demand(spans[i][0]) <= target) {
            return [this.bisect(target, spans[i][0], spans[i][1]), target];
          }
          above = spans[i][0];
        }
        return this.refuseAt(above === null ? most : above);
      },
      bisect: function (target, low, high) {
        for (;;) {
          var middle = (low + high) / 2;
          if (!(low < middle && middle < high)) return low;
          if (this.demand(middle) <= target) low = middle;
          else high = middle;
        }
      },
      spans: function (most) {
        return this.segments.reduce(function (spans, segment) {
          var found = [];
          spans.forEach(function (span) {
            covered(segment).forEach(function (other) {
              var low = Math.max(span[0], other[0]), high = Math.min(span[1], other[1]);
              if (low <= high) found.push([low, high]);
            });
          });
          return found;
        }, [[0, most]]);
      },
      refuseAt: function (flow) {
        [flow, flow * (1 - 1e-9)].forEach(function (justThere) {
          this.segments.forEach(function (segment, place) {
            var word = gap(segment, segment.perFlow * justThere);
            if (word) refuse(word, place + 1);
          });
        }, this);
        refuse("ws_no_flow_fits");
      }
    };

    // ---- duty: the working point. A rig is {temperature, pump: {flow, pressure, unloader}, hoses:
    // [{bore, length, roughness, onReel, reel}], jets: [{count, area, angle, faces, byNumber}],
    // cv, below}; null stands for what is not there.
    function limitOf(pump) {
      return pump.unloader === null ? pump.pressure : Math.min(pump.pressure, pump.unloader);
    }
    function checkRig(rig) {
      positive(rig.pump.flow);
      positive(rig.pump.pressure);
      if (rig.pump.unloader !== null) positive(rig.pump.unloader);
      positive(rig.cv);
      ranged("velocity coefficient [-]", rig.cv);
      ranged("height of the pump above the nozzle [m]", rig.below);
      rig.hoses.forEach(checkSegment);
      rig.jets.forEach(function (jet) {
        ranged("count of jets", jet.count);
        positive(jet.area);
        ranged("angle of a jet [rad]", jet.angle);
      });
    }
    function workingPoint(rig) {
      checkRig(rig);
      var water = waterAt(rig.temperature), limit = limitOf(rig.pump);
      var head = water.density * k.gravity * rig.below, target = limit + head;
      if (target <= 0) refuse("ws_cannot_lift");
      var area = totalArea(rig.jets);
      if (area === 0) return dutyOf(rig, water, "regulated", 0, limit, target, null);
      var path = new FlowPath(rig.hoses, area, water);
      var found = path.flowAt(target, rig.pump.flow);
      if (found[0] < rig.pump.flow) {
        return dutyOf(rig, water, "regulated", found[0], limit, target, path);
      }
      var gauge = found[1] - head;
      if (gauge < 0) refuse("ws_runs_by_itself");
      return dutyOf(rig, water, "full flow", found[0], gauge, found[1], path);
    }
    function dutyOf(rig, water, state, flow, gauge, demand, path) {
      function none() { return 0; }
      var density = water.density, nozzle = demand, along = 0, notes = [];
      var losses = rig.hoses.map(none), reynolds = losses, flows = rig.jets.map(none);
      if (path === null) {
        notes = ["all-jets-plugged"];
      } else {
        if (rig.hoses.length) nozzle = path.nozzle(flow);
        losses = path.losses(flow);
        reynolds = path.segments.map(function (segment) { return segment.perFlow * flow; });
        var share = flow / path.area;
        flows = rig.jets.map(function (jet) { return jet.count * jet.area * share; });
        rig.hoses.forEach(function (hose, i) {
          if (hose.onReel && reynolds[i] > k.coilPublishedTo) notes = ["coil-beyond-published-range"];
        });
      }
      var speed = rig.cv * sqrt(2 * nozzle / density);
      rig.jets.forEach(function (jet, i) {
        var part = flows[i] * Math.cos(jet.angle);
        along += jet.faces === "rear" ? part : -part;
      });
      return {
        state: state, flow: flow, gauge: gauge, hose_loss: Math.max(demand - nozzle, 0),
        nozzle: nozzle, bypass: rig.pump.flow - flow, jet_velocity: speed,
        pull: density * speed * along, jet_power: nozzle * flow,
        jet_flows: flows, reynolds: reynolds, segment_losses: losses, notes: notes
      };
    }

    // ---- variation: a rig with one input at the end of its width (side −1 or +1)
    function replaced(thing, changes) {
      var copy = {}, name;
      for (name in thing) copy[name] = thing[name];
      for (name in changes) copy[name] = changes[name];
      return copy;
    }
    function jetsVaried(rig, byNumber, share) {
      return replaced(rig, { jets: rig.jets.map(function (jet) {
        return jet.byNumber === byNumber ? replaced(jet, { area: jet.area * share }) : jet;
      }) });
    }
    function hosesVaried(rig, vary) { return replaced(rig, { hoses: rig.hoses.map(vary) }); }
    var VARY = {
      "discharge-coefficient": function (rig, by, side) {
        return jetsVaried(rig, false, 1 + side * by.discharge_coefficient);
      },
      "trade-number": function (rig, by, side) {
        return jetsVaried(rig, true, 1 + side * by.trade_number);
      },
      "velocity-coefficient": function (rig, by, side) {
        return replaced(rig, { cv: Math.min(rig.cv * (1 + side * by.velocity_coefficient), 1) });
      },
      "hose-bore": function (rig, by, side) {
        return hosesVaried(rig, function (hose) {
          return replaced(hose, { bore: hose.bore * (1 + side * by.hose_bore) });
        });
      },
      "roughness": function (rig, by, side) {
        return hosesVaried(rig, function (hose) {
          return replaced(hose, { roughness: side < 0 ?
            Math.min(hose.roughness, by.smoothest) : Math.max(hose.roughness, by.roughest) });
        });
      },
      "couplings": function (rig, by, side) {
        var share = side > 0 ? 1 + by.couplings : 1;
        return hosesVaried(rig, function (hose) {
          return replaced(hose, { length: hose.length * share, onReel: hose.onReel * share });
        });
      },
      "coil": function (rig, by, side) {
        return hosesVaried(rig, function (hose) {
          if (hose.reel === null) return hose;
          var ratio = hose.bore / hose.reel, sought = ratio;
          for (var pass = 0; pass < 6; pass += 1) {
            sought = ratio * pow((1 + side * by.coil) * (1 + ratio) / (1 + sought), 1 / 0.53);
          }
          return replaced(hose, { reel: hose.bore / sought });
        });
      },
      "pump-flow": function (rig, by, side) {
        return replaced(rig, {
          pump: replaced(rig.pump, { flow: rig.pump.flow * (1 + side * by.pump_flow) })
        });
      },
      "pressure-limit": function (rig, by, side) {
        var share = 1 + side * by.pressure_limit, pump = rig.pump;
        return replaced(rig, { pump: replaced(pump, {
          pressure: pump.pressure * share,
          unloader: pump.unloader === null ? null : pump.unloader * share
        }) });
      },
      "water-temperature": function (rig, by, side) {
        var value = rig.temperature + side * by.water_temperature;
        return replaced(rig, { temperature: Math.min(Math.max(value, k.coldest), k.hottest) });
      }
    };

    // ---- margin: one input at a time, combined as the root of the sum of squares, side by side.
    // `swings` is [[cause, [numbers, …]], …], each numbers a map of name to value.
    function combined(values, swings) {
      var found = {};
      Object.keys(values).forEach(function (name) {
        var below = [], above = [], most = 0, blamed = "";
        if (typeof values[name] !== "number") return;
        swings.forEach(function (swing) {
          var low = 0, high = 0;
          swing[1].forEach(function (varied) {
            var shift = varied[name] - values[name];
            low = Math.max(low, -shift);
            high = Math.max(high, shift);
          });
          below.push(low);
          above.push(high);
          if (Math.max(low, high) > most) { most = Math.max(low, high); blamed = swing[0]; }
        });
        found[name] = {
          lower: Math.hypot.apply(null, below), upper: Math.hypot.apply(null, above), cause: blamed
        };
      });
      return found;
    }
    function attempt(run) {
      try { return run(); } catch (error) {
        if (error && error.refused) return null;
        throw error;
      }
    }
    // `more`, if given, adds numbers to a duty that then get margins of their own.
    function margins(rig, widths, more) {
      function whole(varied) {
        var duty = workingPoint(varied);
        return more ? replaced(duty, more(varied, duty)) : duty;
      }
      var leftOut = [], duty = whole(rig);
      var swings = k.causes.map(function (cause) {
        return [cause, [-1, 1].map(function (side) {
          var varied = attempt(function () { return whole(VARY[cause](rig, widths, side)); });
          if (varied === null && leftOut.indexOf(cause) < 0) leftOut.push(cause);
          return varied;
        }).filter(Boolean)];
      });
      var found = combined(duty, swings);
      found.left_out = leftOut;
      return found;
    }

    // ---- open channel and transport
    var ANGLE_FULL = 2 * Math.acos(1 - 2 * k.fullFrom);
    function section(angle, diameter) {
      var area = diameter * diameter / 8 * (angle - Math.sin(angle));
      return [area, angle ? area / (diameter / 2 * angle) : 0];
    }
    function conveyance(angle, diameter) {
      var found = section(angle, diameter);
      return found[0] * pow(found[1], 2 / 3);
    }
    function partFull(flow, diameter, slope, n) {
      positive(flow);
      positive(diameter);
      positive(slope);
      ranged("slope of the pipe [-]", slope);
      ranged("Manning's n", n);
      var wanted = flow * n / sqrt(slope), low = 0, high = ANGLE_FULL, middle, found;
      if (conveyance(high, diameter) < wanted) return null;
      for (;;) {
        middle = (low + high) / 2;
        if (!(low < middle && middle < high)) break;
        if (conveyance(middle, diameter) < wanted) low = middle;
        else high = middle;
      }
      found = section(high, diameter);
      return {
        depth: (1 - Math.cos(high / 2)) / 2, velocity: flow / found[0],
        shear: k.shearDensity * k.gravity * found[1] * slope
      };
    }
    function thresholdShear(grain, water) {
      var lighter = k.quartz / water.density - 1, kinematic = water.viscosity / water.density;
      var size = grain * pow(k.gravity * lighter / (kinematic * kinematic), 1 / 3);
      var shields = 0.30 / (1 + 1.2 * size) + 0.055 * (1 - exp(-0.020 * size));
      return shields * lighter * water.density * k.gravity * grain;
    }
    function largestGrainMoved(shear, water) {
      var low = k.smallestGrain, high = k.largestGrain, middle;
      if (shear < thresholdShear(low, water)) return null;
      if (shear >= thresholdShear(high, water)) return high;
      while (high - low > 1e-9) {
        middle = (low + high) / 2;
        if (thresholdShear(middle, water) <= shear) low = middle;
        else high = middle;
      }
      return low;
    }

    // ---- choice, setting, wear, plunger
    function fittingNozzle(pump, hoses, temperature, below) {
      var water = waterAt(temperature);
      var lost = sum(hoses, function (hose) { return pressureLoss(hose, pump.flow, water); });
      var left = limitOf(pump) - lost + water.density * k.gravity * below;
      if (left <= 0) refuse("ws_hose_takes_all");
      var area = areaFor(pump.flow, left, water.density);
      return { area: area, number: numberOfArea(area), nozzle: left, lost: lost };
    }
    function numbersBeside(number) {
      var steps = number / k.numberStep, below = Math.floor(steps + 1e-9);
      var exact = Math.abs(steps - below) < 1e-9;
      return [below * k.numberStep, (exact ? below : below + 1) * k.numberStep];
    }
    function regulatorSetting(ceiling, error, overshoot, below, density, ratings) {
      var peak = Math.min.apply(null, [ceiling].concat(ratings)) -
        density * k.gravity * Math.max(below, 0);
      var setting = peak / (1 + overshoot) - error;
      if (setting <= 0) refuse("ws_nothing_to_set");
      return setting;
    }
    function worn(area, growth) { return area * pow(1 + growth, 2); }
    function pulsedFlow(flow, plungers) { return flow * (plungers - 1) / plungers; }

    // ---- reach
    function hoseWeight(dry, bore, density) {
      return (dry + density * PI / 4 * bore * bore) * k.gravity;
    }
    function reach(pull, weight, friction, slope, bends, drag) {
      positive(weight);
      var metre = weight * (friction * Math.cos(slope) + Math.sin(slope));
      if (metre <= 0) refuse("ws_runs_down");
      if (pull <= drag) return 0;
      var tension = drag, place = 0, here;
      for (var i = 0; i < bends.length; i += 1) {
        here = tension + metre * (bends[i].at - place);
        if (here > pull) break;
        tension = here * exp(friction * bends[i].angle);
        place = bends[i].at;
        if (tension > pull) return place;
      }
      return place + (pull - tension) / metre;
    }

    // ---- short sums
    function headPressure(height, density) { return density * k.gravity * height; }
    function pipeVolume(bore, length) { return PI / 4 * bore * bore * length; }
    function altitudeShares(height) {
      return {
        cautious: 1 - 0.035 * height / k.per1000Feet,
        mild: 1 - 0.03 * Math.max(height - k.per1000Feet / 2, 0) / k.per1000Feet,
        air: pow(1 - 0.0065 * height / 288.15, 4.25588)
      };
    }
    function heatShare(temperature, fuel) {
      return 1 - 0.01 * Math.max(temperature - k.heat[fuel][0], 0) / k.heat[fuel][1];
    }
    function between(x, points) {
      for (var i = 1; i < points.length; i += 1) {
        var left = points[i - 1], right = points[i];
        if (x <= right[0]) {
          return left[1] + (right[1] - left[1]) * Math.max(x - left[0], 0) / (right[0] - left[0]);
        }
      }
      return points[points.length - 1][1];
    }
    function freezingPoint(strength) {
      if (!(0 <= strength && strength <= k.strongest)) refuse("ws_no_freezing");
      return 273.15 + between(strength, k.freezing);
    }
    function strengthFor(temperature) {
      var points = k.freezing.map(function (p) { return [p[1], p[0]]; }).reverse();
      if (!(points[0][0] <= temperature - 273.15 && temperature <= 273.15)) refuse("ws_no_freezing");
      return between(temperature - 273.15, points);
    }
    function lossHead(hose, flow, water, fittings) {
      var speed = flow / (PI / 4 * pow(hose.bore, 2));
      return pressureLoss(hose, flow, water) / (water.density * k.gravity) +
        fittings * speed * speed / (2 * k.gravity);
    }
    function vapourPressure(temperature) {
      var tau = 1 - temperature / k.criticalTemperature;
      return k.criticalPressure * exp(k.criticalTemperature / temperature *
        sum(k.saturation, function (t) { return t[0] * pow(tau, t[1]); }));
    }
    function airPressure(altitude) { return 101325 * pow(1 - 0.0065 * altitude / 288.15, 5.25588); }
    function suctionHead(height, lost, temperature, altitude) {
      return (airPressure(altitude) - vapourPressure(temperature)) /
        (waterAt(temperature).density * k.gravity) + height - lost;
    }
    function outletFlow(volts, amps, pressure, motor, pump, factor) {
      return volts * amps * factor * motor * pump / pressure;
    }
    function airGap(bore, besideWall) { return Math.max((besideWall ? 3 : 2) * bore, k.inch); }
    function hold(push) {
      return push > k.machineAbove ? "machine" : push > k.bracedAbove ? "body" : "hands";
    }

    return {
      refuse: refuse, attempt: attempt, replaced: replaced, combined: combined, sum: sum,
      waterAt: waterAt, areaOfBore: areaOfBore, areaOfNumber: areaOfNumber,
      numberOfArea: numberOfArea, totalArea: totalArea, pressureFor: pressureFor,
      areaFor: areaFor, flowThrough: flowThrough, jetSpeed: jetSpeed, reaction: reaction,
      boreEach: boreEach, pressureLoss: pressureLoss, FlowPath: FlowPath, limitOf: limitOf,
      workingPoint: workingPoint, margins: margins, partFull: partFull,
      largestGrainMoved: largestGrainMoved, fittingNozzle: fittingNozzle,
      numbersBeside: numbersBeside, regulatorSetting: regulatorSetting, worn: worn,
      pulsedFlow: pulsedFlow, hoseWeight: hoseWeight, reach: reach, headPressure: headPressure,
      pipeVolume: pipeVolume, altitudeShares: altitudeShares, heatShare: heatShare,
      freezingPoint: freezingPoint, strengthFor: strengthFor, lossHead: lossHead,
      suctionHead: suctionHead, outletFlow: outletFlow, airGap: airGap, hold: hold
    };
  };
})(window.refgenSheet = window.refgenSheet || {});
