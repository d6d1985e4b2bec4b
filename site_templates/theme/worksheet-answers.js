// The worksheet's answers: the page holds every place for one, here they are filled: cautions,
// then numbers, what a change would do, the nozzle that suits, and the working.
// ---- cautions, by signal word
function cautionsOf(rig, duty) {
  const found = [],
    limit = limitOf(rig.pump),
    most = limits.most,
    head = duty.nozzle + duty.hose_loss - duty.gauge;
  const add = (if_, signal, word, values) => {
    if (if_) found.push([signal, say(word, values)]);
  };
  const values = {
    nozzle: pressureIn(duty.nozzle),
    limit: pressureIn(limit),
    ceiling: most && pressureIn(most)
  };
  const barred = limits.ceiling && limits.ceiling.jet;
  add(barred === "no", "danger", "ws_no_jet");
  add(barred && barred !== "no", "danger", "ws_only_if", { condition: barred });
  add(duty.nozzle > most, "warning", "ws_over_ceiling", values);
  add(
    duty.nozzle <= most && duty.nozzle + duty.margins.nozzle.upper > most,
    "warning",
    "ws_may_be_over",
    values
  );
  add(duty.nozzle <= most && limit + max(head, 0) > most, "caution", "ws_over_if_plugged", values);
  add(rig.temperature > limits.heat, "warning", "ws_too_warm", {
    limit: limits.heat && inBoth(limits.heat, "temperature")
  });
  add(nozzleRecord && limits.keepOff.includes(nozzleRecord.pattern), "warning", "ws_keep_off");
  rig.hoses.forEach((hose, i) => {
    add(limit > hose.tag, "danger", "ws_over_tag", {
      number: i + 1,
      limit: values.limit,
      tag: hose.tag && pressureIn(hose.tag)
    });
    add(rig.temperature > hose.warmest, "warning", "ws_hose_warm", { number: i + 1 });
  });
  add(rig.pump.unloader > rig.pump.pressure, "warning", "ws_unloader_above");
  add(duty.pull < 0, "danger", "ws_pushes_out");
  add(duty.note, duty.flow ? "notice" : "warning", duty.note);
  add(!duty.full && duty.flow, "caution", "ws_never_raise");
  add(job.stiff < job.pipe, "warning", "ws_say_turns");
  add(job.stiff >= job.pipe && job.stiff < k.careful * job.pipe, "caution", "ws_say_may_turn");
  add(duty.brim, "caution", "ws_runs_full");
  add(duty.engine > pumpNow.power, "caution", "ws_engine_short");
  add(duty.left_out.length, "notice", "ws_left_out");
  return found;
}
function showCautions(found) {
  for (const panel of all("[data-sig]")) {
    const mine = found.filter(([signal]) => signal === panel.dataset.sig);
    panel.hidden = !mine.length;
    panel.replaceChildren(panel.firstElementChild, ...mine.map(([, text]) => el("span", {}, text)));
  }
  const link = the(".ws-ceiling"),
    ceiling = limits.ceiling;
  link.hidden = !ceiling;
  the(".ws-inside").hidden = !ceiling || found.some(([signal]) => signal !== "notice");
  if (ceiling) {
    link.href = limits.material.href + "#" + limits.condition;
    setText(
      link,
      limits.material.title +
        ": " +
        (limits.most ? pressureIn(limits.most) : ceiling.jet) +
        " (" +
        ceiling.mark +
        ")"
    );
  }
}

// ---- answers
function showRow(box, value, margin) {
  const there = isFinite(value) && value !== null,
    what = box.dataset.as;
  if (box.hidden === there) box.hidden = !there;
  if (!there) return;
  const [first, other] = both(value, what),
    [big, small, note] = box.lastElementChild.children;
  setText(big, first);
  setText(small, other && "(" + other + ")");
  setText(note, margin ? mayBe(value, margin, what, w[margin.cause]) : "");
}

// ---- what if
function changedRig(rig, duty) {
  const hoses = [...rig.hoses],
    pump = { ...rig.pump },
    main = duty.losses.indexOf(max(...duty.losses));
  const share = (name, low, high) => {
    const value = Number(ifs[name]);
    return value >= low && value <= high ? value : null;
  };
  const bore = k.bores.find(([text]) => text === ifs.bore),
    times = share("length", 0.1, 10) || 1;
  if (hoses[main]) {
    const hose = hoses[main];
    hoses[main] = {
      ...hose,
      bore: bore ? bore[1] : hose.bore,
      length: hose.length * times,
      onReel: min(hose.onReel, hose.length * times)
    };
  }
  const jets = rig.jets.map(jet => ({
    ...jet,
    area: jet.area * pow(1 + (share("worn", 0, 0.5) || 0), 2)
  }));
  for (const faces of ["rear", "front"]) {
    let out = share(faces, 0, 60) || 0;
    for (const jet of jets.filter(one => one.faces === faces)) {
      const plugged = min(Math.floor(out), jet.count);
      jet.count -= plugged;
      out -= plugged;
    }
  }
  pump.flow *= share("throttle", 0.3, 1) || 1;
  if (ifs.pulse) pump.flow *= (pumpNow.plungers - 1) / pumpNow.plungers;
  if (ifs.unloader && duty.setting) pump.unloader = min(limitOf(pump), duty.setting);
  const up = share("up", 1, k.highest);
  if (up) {
    // What the engine still has, or had just enough for the plate, sets what the pump can hold.
    const power = pumpNow.power || (rig.pump.flow * rig.pump.pressure) / k.pumpEfficiency;
    pump.unloader = min(
      limitOf(pump),
      (power * altitudeShare(up, "cautious") * k.pumpEfficiency) / pump.flow
    );
  }
  return { ...rig, hoses: hoses, pump: pump, jets: jets };
}
function showWhatIf(rig, duty) {
  let then = null,
    line = w.ws_tap_one;
  for (const chip of all("[data-if]")) {
    const on = String((ifs[chip.dataset.if] || "") === chip.value);
    if (chip.getAttribute("aria-pressed") !== on) chip.setAttribute("aria-pressed", on);
  }
  the("[data-chips=unloader]").hidden = !duty.setting;
  for (const faces of ["rear", "front"]) {
    const count = sum(rig.jets, jet => (jet.faces === faces ? jet.count : 0));
    the("[data-chips=" + faces + "]").hidden = !count;
    for (const chip of all("[data-if=" + faces + "]")) chip.hidden = chip.value > count;
  }
  if (Object.values(ifs).some(Boolean)) {
    try {
      then = solve(changedRig(rig, duty));
      line =
        then.nozzle > limits.most
          ? say("ws_over_ceiling", {
              nozzle: pressureIn(then.nozzle),
              ceiling: pressureIn(limits.most)
            })
          : then.full
            ? w.ws_full_flow
            : regulated(then, then.flow + then.bypass);
    } catch (error) {
      line = sayRefusal(error);
    }
  }
  setText(the(".ws-then"), line);
  the(".ws-what").hidden = !then;
  if (then) {
    for (const row of all("[data-d]")) {
      const id = row.dataset.d,
        what = row.dataset.as,
        margin = then.margins[id],
        by = then[id] - duty[id];
      setText(row.cells[1], both(duty[id], what)[0]);
      setText(row.cells[2].firstChild, inBoth(then[id], what));
      setText(row.cells[2].lastChild, mayBe(then[id], margin, what));
      setText(row.cells[3], signed(by, what));
    }
  }
  return then;
}
function signed(by, what) {
  return (by > 0 ? "+" : "") + both(by, what, 2)[0];
}
function regulated(duty, flow) {
  return say("ws_regulated", { share: roundTo((duty.bypass / flow) * 100, 2) + "%" });
}

// ---- the nozzle that suits, from stock first
function showSuits(rig) {
  const box = the(".ws-suits"),
    kids = [],
    barred = limits.ceiling && limits.ceiling.jet === "no";
  try {
    if (barred) refuse("ws_no_jet");
    const water = waterAt(rig.temperature);
    const area = max(
      areaBehind(rig, rig.pump.flow, limitOf(rig.pump)),
      limits.most ? areaFor(rig.pump.flow, limits.most, water.density) : 0
    );
    const carried = ids.machine ? FILL.machine(emptySetup(), ids.machine) : [];
    const found = Object.entries(data.nozzles)
      .map(([id, stock]) => {
        const nozzle = { ...stock, ...data.own[ids.machine + "/" + id] };
        const jets = nozzle.jets.map(jet => ({
            ...jet,
            count: +jet.count,
            angle: siOf(jet.angle, "angle"),
            byNumber: !!jet.number,
            area: jet.number
              ? areaOfNumber(jet.number)
              : areaOfBore(siOf(jet.bore, "length"), nozzle.cd)
          })),
          size = totalArea(jets) / area;
        return {
          ...nozzle,
          id: id,
          rig: { ...rig, jets: jets, cv: +nozzle.cv, reading: readingWith(id, jets) },
          off: abs(log(size)) - (carried.includes(id) ? 9 : 0),
          out:
            job.pipe < siOf(nozzle.from, "length") ||
            job.pipe > siOf(nozzle.to, "length") ||
            limits.keepOff.includes(nozzle.pattern) ||
            size < 0.9 ||
            size > 1.8
        };
      })
      .filter(one => !one.out)
      .sort((a, b) => a.off - b.off)
      .slice(0, 3);
    for (const one of found) {
      const duty = attempt(() => solve(one.rig));
      if (!duty || duty.nozzle > limits.most) continue;
      kids.push(
        el(
          "p",
          {},
          el("a", { href: one.href }, one.title),
          " ",
          say("ws_suits_with", {
            nozzle: pressureIn(duty.nozzle),
            may: mayBe(duty.nozzle, duty.margins.nozzle, "pressure"),
            pull: inBoth(duty.pull, "force"),
            thread: one.thread
          })
        ),
        one.id === ids.nozzle
          ? el("b", {}, w.ws_on_now)
          : el(
              "button",
              { type: "button", class: "ws-button", click: () => pick("nozzle", one.id) },
              w.ws_use_it
            )
      );
    }
    if (!kids.length) kids.push(el("p", {}, w.ws_none_in_stock));
    const number = numberOfArea(area),
      [below, above] = numbersBeside(number),
      total = totalArea(rig.jets);
    kids.push(
      el(
        "p",
        {},
        say("ws_whole_number", {
          number: roundTo(number, 3),
          below: below,
          above: above,
          nozzle: pressureIn(pressureFor(rig.pump.flow, area, water.density))
        })
      )
    );
    if (total && rig.jets.every(jet => jet.bore)) {
      kids.push(
        el(
          "p",
          {},
          say("ws_drill_to", {
            jets: rig.jets
              .map(jet => jet.count + " × " + inBoth(jet.bore * sqrt(area / total), "small length"))
              .join(", ")
          })
        )
      );
    }
  } catch (error) {
    kids.push(el("p", {}, sayRefusal(error)));
  }
  box.replaceChildren(...kids);
}
function showWorking(rig, duty) {
  const water = waterAt(rig.temperature),
    line = (word, values) => el("li", {}, say(word, values));
  the(".ws-working").replaceChildren(
    line("ws_working_water", {
      density: water.density.toFixed(1),
      viscosity: (water.viscosity * 1e3).toFixed(3)
    }),
    ...rig.jets.map(jet =>
      line("ws_working_jet", {
        count: jet.count,
        angle: roundTo((jet.angle * 180) / PI, 2),
        area: (jet.area * 1e6).toFixed(3)
      })
    ),
    ...rig.hoses.map((hose, i) =>
      line("ws_working_hose", {
        number: i + 1,
        reynolds: roundTo(duty.reynolds[i], 3),
        lost: pressureIn(duty.losses[i])
      })
    ),
    line("ws_working_gauge", {
      lost: pressureIn(duty.hose_loss),
      nozzle: pressureIn(duty.nozzle),
      gauge: pressureIn(duty.gauge),
      head: pressureIn(duty.nozzle + duty.hose_loss - duty.gauge),
      limit: pressureIn(limitOf(rig.pump))
    })
  );
}
