// The worksheet's page: fields in, answers out. The page holds the form and every place for an
// answer; here fields are read, texts set, and only lists are made, element by element.
const place = document.getElementById("worksheet");
const the = (selector, within = place) => within.querySelector(selector);
const all = (selector, within = place) => [...within.querySelectorAll(selector)];
const toggles = { sums: {} };
let ids = {}, ifs = {}, groups = {}, rows = { hose: [], jet: [] }, loading = false, last = null;
let nozzleRecord = null, limits = {}, job = {}, pumpNow = {}, mine = null, addressTimer = 0, laterTimer = 0;

function el(tag, attributes, ...kids) {
  const made = document.createElement(tag);
  for (const name in attributes) {
    if (typeof attributes[name] === "function") made.addEventListener(name, attributes[name]);
    else made.setAttribute(name, attributes[name]);
  }
  made.append(...kids);
  return made;
}
function setText(node, text) { if (node.textContent !== text) node.textContent = text; }
function sayRefusal(error) {
  if (!(error instanceof Refusal)) throw error;
  return say(error.word, error.values);
}
function pressureIn(si) { return inBoth(si, "pressure"); }

// ---- fields: what the page holds, bound to how it is read
function bind(box, spec, id, changed) {
  const input = the(".ws-in > *", box), note = the("p", box), units = unitsOf(spec.of);
  const choice = spec.of === "choice", title = the("label", box);
  let unitBox = null;
  const unitNow = () => unitBox ? BY_SYMBOL.get(unitBox.value) : units[0];
  const free = text => attempt(() => parse(text, spec, unitNow(), true));
  const get = () => {
    const text = input.value.trim(), read = !choice && text && free(text);
    return read ? read.number + (read.unit ? " " + read.unit.symbol : "") : text;
  };
  const set = text => {
    const read = !choice && text && free(text);
    input.value = read ? read.number : text;
    if (choice && input.selectedIndex < 0) input.value = spec.is;
    if (unitBox && read) unitBox.value = read.unit.symbol;
  };
  // The value in SI, undefined where nothing is typed, null where it cannot be taken.
  const read = () => {
    const text = input.value.trim();
    let line = "", found;
    if (choice) return text;
    if (text) {
      try {
        found = parse(text, spec, unitNow());
        const twin = found.unit && BY_SYMBOL.get(found.unit.twin);
        if (found.unit !== unitNow()) line = found.unit.word + " ";
        if (twin) line += "= " + show(found.si, twin, 3);
        found = found.si;
      } catch (error) {
        line = sayRefusal(error);
        found = null;
      }
    }
    setText(note, line);
    if (box.classList.toggle("ws-bad", found === null)) input.setAttribute("aria-invalid", "true");
    else input.removeAttribute("aria-invalid");
    return found;
  };
  input.id = title.htmlFor = "ws-" + id;
  note.id = input.id + "-note";
  input.setAttribute("aria-describedby", note.id);
  input.addEventListener("input", changed);
  if (!choice) {
    input.addEventListener("focus", () => input.select());
    input.addEventListener("change", () => { set(get()); changed(); });
    if (units.length > 1) {
      unitBox = el("select", { "aria-label": say("ws_unit_of", { field: title.textContent }), change: changed },
        ...units.map(unit => new Option(unit.word, unit.symbol)));
      unitBox.value = spec.unit || (data.first && BY_SYMBOL.get(units[0].twin) || units[0]).symbol;
      input.after(unitBox);
    } else if (units[0]) {
      input.after(units[0].word);
    }
    set(spec.is || "");
  }
  return { input: input, title: title.textContent, spec: spec, get: get, set: set, read: read };
}
function bindAll(box, fields, id, changed) {
  return fields.map(field => bind(the("[data-f=" + field.id + "]", box), field, id + "-" + field.id, changed));
}
function texts(group) { return Object.fromEntries(group.map(field => [field.spec.id, field.get()])); }
function fill(group, from) { for (const field of group) field.set(from[field.spec.id] || ""); }
// Reads a group into SI; what is missing or cannot be taken goes into `wrong`.
function valuesOf(group, wrong) {
  return Object.fromEntries(group.map(field => {
    const value = field.read();
    if (value === null || (value === undefined && field.spec.needed)) wrong.push(field);
    return [field.spec.id, value ?? undefined];
  }));
}

// ---- hoses and jets, row by row
let made = 0;
function addRow(kind, start) {
  const box = the("#ws-" + kind).content.firstElementChild.cloneNode(true), list = rows[kind];
  const row = { box: box, id: start.id || "", fields: bindAll(box, FORM[kind], kind + (made += 1), update) };
  fill(row.fields, start);
  the("button", box).onclick = () => {
    box.remove();
    list.splice(list.indexOf(row), 1);
    numberRows(kind);
    update();
    the("[data-add=" + kind + "]").focus();
  };
  list.push(row);
  the("[data-rows=" + kind + "]").append(box);
  numberRows(kind);
  return row;
}
function numberRows(kind) {
  rows[kind].forEach((row, i) => setText(the("b", row.box), String(i + 1)));
  the("[data-add=" + kind + "]").hidden = rows[kind].length >= MOST_ROWS;
}

// ---- the form as a setup, and a setup into the form
function collect() {
  const setup = { ids: ids, if: ifs, sums: {} };
  for (const group of GROUPS) setup[group] = texts(groups[group]);
  setup.hoses = rows.hose.map(row => ({ ...texts(row.fields), id: row.id }));
  setup.jets = rows.jet.map(row => texts(row.fields));
  for (const id in toggles.sums) setup.sums[id] = texts(toggles.sums[id]);
  return setup;
}
function load(setup) {
  loading = true;
  ids = setup.ids;
  ifs = setup.if;
  for (const group of GROUPS) fill(groups[group], setup[group]);
  for (const [kind, starts] of [["hose", setup.hoses], ["jet", setup.jets]]) {
    rows[kind].forEach(row => row.box.remove());
    rows[kind] = [];
    starts.forEach(start => addRow(kind, start));
    numberRows(kind);
  }
  for (const id in setup.sums) {
    openSum(id);
    fill(toggles.sums[id], setup.sums[id]);
    the("#sum-" + id).open = true;
    workSum(id);
  }
  for (const kind of IDS) the("#ws-pick-" + kind).value = ids[kind] || "";
  loading = false;
  update();
}
function pick(kind, id) {
  const setup = collect();
  let carried = [];
  setup.ids = { ...ids, [kind]: "" };
  if (kind !== "material") setup.if = {};
  if (id) carried = FILL[kind](setup, id);
  if (kind === "machine" && carried.length && !carried.includes(ids.nozzle)) FILL.nozzle(setup, carried[0]);
  load(setup);
}

// ---- from the fields to a rig
function readRig(wrong) {
  pumpNow = valuesOf(groups.pump, wrong);
  job = valuesOf(groups.job, wrong);
  const nozzle = valuesOf(groups.nozzle, wrong);
  job.stiff = nozzle.stiff;
  return {
    temperature: job.water, cv: nozzle.cv, below: job.below,
    pump: { flow: pumpNow.flow, pressure: pumpNow.pressure, unloader: pumpNow.unloader ?? null },
    hoses: rows.hose.map(row => {
      const hose = valuesOf(row.fields, wrong);
      const stock = data.hoses[row.id] || {};
      return {
        ...hose, onReel: hose.onReel || 0, reel: hose.reel ?? null,
        tag: siOf(stock.rating, "pressure"), warmest: siOf(stock.warmest, "temperature")
      };
    }),
    jets: rows.jet.map(row => {
      const jet = valuesOf(row.fields, wrong), byNumber = jet.number !== undefined;
      if (byNumber === (jet.bore !== undefined)) wrong.push({ ...row.fields[1], title: w.ws_bore_or_number });
      return { ...jet, byNumber: byNumber, area: byNumber ? areaOfNumber(jet.number) : areaOfBore(jet.bore, nozzle.cd) };
    })
  };
}
function readLimits() {
  const [name, condition] = (ids.material || "").split("/"), material = data.materials[name];
  nozzleRecord = data.nozzles[ids.nozzle];
  limits = { keepOff: [] };
  if (material) {
    const ceiling = material.ceilings[condition];
    limits = {
      ceiling: ceiling, most: siOf(ceiling.is, "pressure"), heat: siOf(material.heat, "temperature"),
      keepOff: material.keepOff || [], material: material, condition: condition
    };
  }
}
// Numbers beside the duty, which then get margins too.
function beside(rig, duty) {
  const water = waterAt(rig.temperature), found = {}, running = duty.flow + (job.also || 0);
  const weights = rig.hoses.filter(hose => hose.weight).map(hose => hoseWeight(hose.weight, hose.bore, water.density));
  if (weights.length) {
    const rise = Math.atan(job.fall) * (job.way === "down" ? -1 : 1);
    const bends = Array(job.bends).fill({ at: job.bendAt || 0, angle: PI / 2 });
    for (const [id, friction] of [["near", k.hardFriction], ["far", k.easyFriction]]) {
      const to = attempt(() => reach(duty.pull, max(...weights), friction, rise, bends));
      if (to !== null) found[id] = min(to, job.hose);
    }
  }
  found.push = reaction(duty.flow, duty.jet_velocity, water.density);
  found.lasts = pumpNow.tank / max(duty.flow - (pumpNow.supply || 0), 0);
  found.engine = rig.pump.flow * duty.gauge / k.pumpEfficiency;
  if (job.pipe && running) {
    const part = attempt(() => partFull(running, job.pipe, job.fall, job.n));
    found.brim = part ? 0 : 1;
    if (part) {
      found.part = part;
      found.depth = part.depth_ratio * job.pipe;
      found.velocity = part.velocity;
      found.grain = largestGrainMoved(part.shear, water);
    }
  }
  if (limits.most && !limits.ceiling.jet) {
    const ratings = rig.hoses.map(hose => hose.tag || Infinity);
    const limit = limitOf(rig.pump), dial = k.dials.find(end => limit <= end * 2 / 3) ?? limit * 1.5;
    found.setting = attempt(() => regulatorSetting(limits.most, k.gaugeClass * dial, job.overshoot, rig.below, water.density, [rig.pump.pressure, ...ratings])) ?? undefined;
  }
  if (!duty.full && duty.flow) {
    found.needs = attempt(() => flowPath(rig.hoses, totalArea(rig.jets), water).demand(rig.pump.flow) -
      water.density * k.gravity * rig.below) ?? undefined;
  }
  return found;
}

// ---- cautions, by signal word
function cautionsOf(rig, duty) {
  const found = [], limit = limitOf(rig.pump), most = limits.most, head = duty.nozzle + duty.hose_loss - duty.gauge;
  const add = (if_, signal, word, values) => { if (if_) found.push([signal, say(word, values)]); };
  const values = { nozzle: pressureIn(duty.nozzle), limit: pressureIn(limit), ceiling: most && pressureIn(most) };
  const barred = limits.ceiling && limits.ceiling.jet;
  add(barred === "no", "danger", "ws_no_jet");
  add(barred && barred !== "no", "danger", "ws_only_if", { condition: barred });
  add(duty.nozzle > most, "warning", "ws_over_ceiling", values);
  add(duty.nozzle <= most && duty.nozzle + duty.margins.nozzle.upper > most, "warning", "ws_may_be_over", values);
  add(duty.nozzle <= most && limit + max(head, 0) > most, "caution", "ws_over_if_plugged", values);
  add(rig.temperature > limits.heat, "warning", "ws_too_warm", { limit: limits.heat && inBoth(limits.heat, "temperature") });
  add(nozzleRecord && limits.keepOff.includes(nozzleRecord.pattern), "warning", "ws_keep_off");
  rig.hoses.forEach((hose, i) => {
    add(limit > hose.tag, "danger", "ws_over_tag", { number: i + 1, limit: values.limit, tag: hose.tag && pressureIn(hose.tag) });
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
  const link = the(".ws-ceiling"), ceiling = limits.ceiling;
  link.hidden = !ceiling;
  the(".ws-inside").hidden = !ceiling || found.some(([signal]) => signal !== "notice");
  if (ceiling) {
    link.href = limits.material.href + "#" + limits.condition;
    setText(link, limits.material.title + ": " + (limits.most ? pressureIn(limits.most) : ceiling.jet) + " (" + ceiling.mark + ")");
  }
}

// ---- answers
function showRow(box, value, margin) {
  const there = isFinite(value) && value !== null, what = box.dataset.as;
  if (box.hidden === there) box.hidden = !there;
  if (!there) return;
  const [first, other] = both(value, what, 3), [big, small, note] = box.lastElementChild.children;
  setText(big, first);
  setText(small, other && "(" + other + ")");
  setText(note, margin ? mayBe(value, margin, what, w[margin.cause]) : "");
}

// ---- what if
function changedRig(rig, duty) {
  const hoses = [...rig.hoses], pump = { ...rig.pump }, main = duty.losses.indexOf(max(...duty.losses));
  const share = (name, low, high) => {
    const value = Number(ifs[name]);
    return value >= low && value <= high ? value : null;
  };
  const bore = k.bores.find(([text]) => text === ifs.bore), times = share("length", 0.1, 10) || 1;
  if (hoses[main]) {
    const hose = hoses[main];
    hoses[main] = {
      ...hose, bore: bore ? bore[1] : hose.bore, length: hose.length * times,
      onReel: min(hose.onReel, hose.length * times)
    };
  }
  const jets = rig.jets.map(jet => ({ ...jet, area: jet.area * pow(1 + (share("worn", 0, 0.5) || 0), 2) }));
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
    const power = pumpNow.power || rig.pump.flow * rig.pump.pressure / k.pumpEfficiency;
    pump.unloader = min(limitOf(pump), power * altitudeShare(up, "cautious") * k.pumpEfficiency / pump.flow);
  }
  return { ...rig, hoses: hoses, pump: pump, jets: jets };
}
function showWhatIf(rig, duty) {
  let then = null, line = w.ws_tap_one;
  for (const chip of all("[data-if]")) {
    const on = String((ifs[chip.dataset.if] || "") === chip.value);
    if (chip.getAttribute("aria-pressed") !== on) chip.setAttribute("aria-pressed", on);
  }
  the("[data-chips=unloader]").hidden = !duty.setting;
  for (const faces of ["rear", "front"]) {
    const count = sum(rig.jets, jet => jet.faces === faces ? jet.count : 0);
    the("[data-chips=" + faces + "]").hidden = !count;
    for (const chip of all("[data-if=" + faces + "]")) chip.hidden = chip.value > count;
  }
  if (Object.values(ifs).some(Boolean)) {
    try {
      then = solve(changedRig(rig, duty));
      line = then.nozzle > limits.most ? say("ws_over_ceiling",
        { nozzle: pressureIn(then.nozzle), ceiling: pressureIn(limits.most) }) : then.full ? w.ws_full_flow : regulated(then, then.flow + then.bypass);
    } catch (error) { line = sayRefusal(error); }
  }
  setText(the(".ws-then"), line);
  the(".ws-what").hidden = !then;
  if (then) {
    for (const row of all("[data-d]")) {
      const id = row.dataset.d, what = row.dataset.as, margin = then.margins[id], by = then[id] - duty[id];
      setText(row.cells[1], both(duty[id], what, 3)[0]);
      setText(row.cells[2].firstChild, inBoth(then[id], what));
      setText(row.cells[2].lastChild, mayBe(then[id], margin, what));
      setText(row.cells[3], (by > 0 ? "+" : "") + both(by, what, 2)[0]);
    }
  }
  return then;
}
function regulated(duty, flow) { return say("ws_regulated", { share: roundTo(duty.bypass / flow * 100, 2) + "%" }); }

// ---- the nozzle that suits, from stock first
function showSuits(rig) {
  const box = the(".ws-suits"), kids = [], barred = limits.ceiling && limits.ceiling.jet === "no";
  try {
    if (barred) refuse("ws_no_jet");
    const water = waterAt(rig.temperature);
    const area = max(fittingNozzle(rig.pump, rig.hoses, rig.temperature, rig.below),
      limits.most ? areaFor(rig.pump.flow, limits.most, water.density) : 0);
    const [machine, reel] = (ids.machine || "").split("/");
    const carried = machine ? data.machines[machine].hoses.find(hose => hose.id === reel).nozzles || [] : [];
    const found = Object.entries(data.nozzles).map(([id, nozzle]) => {
      const jets = nozzle.jets.map(jet => ({
        count: +jet.count, angle: siOf(jet.angle, "angle"), faces: jet.faces, byNumber: !!jet.number,
        area: jet.number ? areaOfNumber(+jet.number) : areaOfBore(siOf(jet.bore, "length"), +nozzle.cd)
      })), size = totalArea(jets) / area;
      const misfit = job.pipe < siOf(nozzle.from, "length") || job.pipe > siOf(nozzle.to, "length");
      return {
        id: id, nozzle: nozzle, rig: { ...rig, jets: jets, cv: +nozzle.cv }, off: abs(log(size)) - (carried.includes(id) ? 9 : 0),
        out: misfit || limits.keepOff.includes(nozzle.pattern) || size < 0.9 || size > 1.8
      };
    }).filter(one => !one.out).sort((a, b) => a.off - b.off).slice(0, 3);
    for (const one of found) {
      const duty = attempt(() => solve(one.rig));
      if (!duty || duty.nozzle > limits.most) continue;
      kids.push(el("p", {}, el("a", { href: one.nozzle.href }, one.nozzle.title), " ", say("ws_suits_with", {
        nozzle: pressureIn(duty.nozzle), may: mayBe(duty.nozzle, duty.margins.nozzle, "pressure"),
        pull: inBoth(duty.pull, "force", 2), thread: one.nozzle.thread
      })), one.id === ids.nozzle ? el("b", {}, w.ws_on_now) :
        el("button", { type: "button", class: "ws-button", click: () => pick("nozzle", one.id) }, w.ws_use_it));
    }
    if (!kids.length) kids.push(el("p", {}, w.ws_none_in_stock));
    const number = numberOfArea(area), [below, above] = numbersBeside(number), total = totalArea(rig.jets);
    kids.push(el("p", {}, say("ws_whole_number", {
      number: roundTo(number, 3), below: below, above: above, nozzle: pressureIn(pressureFor(rig.pump.flow, area, water.density))
    })));
    if (total && rig.jets.every(jet => jet.bore)) {
      kids.push(el("p", {}, say("ws_drill_to", { jets: rig.jets.map(jet =>
        jet.count + " × " + inBoth(jet.bore * sqrt(area / total), "small length")).join(", ") })));
    }
  } catch (error) { kids.push(el("p", {}, sayRefusal(error))); }
  box.replaceChildren(...kids);
}
function showWorking(rig, duty) {
  const water = waterAt(rig.temperature), line = (word, values) => el("li", {}, say(word, values));
  the(".ws-working").replaceChildren(
    line("ws_working_water", { density: water.density.toFixed(1), viscosity: (water.viscosity * 1e3).toFixed(3) }),
    ...rig.jets.map(jet => line("ws_working_jet", { count: jet.count, angle: roundTo(jet.angle * 180 / PI, 2), area: (jet.area * 1e6).toFixed(3) })),
    ...rig.hoses.map((hose, i) => line("ws_working_hose", { number: i + 1, reynolds: roundTo(duty.reynolds[i], 3), lost: pressureIn(duty.losses[i]) })),
    line("ws_working_gauge", {
      lost: pressureIn(duty.hose_loss), nozzle: pressureIn(duty.nozzle), gauge: pressureIn(duty.gauge),
      head: pressureIn(duty.nozzle + duty.hose_loss - duty.gauge), limit: pressureIn(limitOf(rig.pump))
    }));
}

// ---- all together
function update() {
  if (loading) return;
  const wrong = [], rig = readRig(wrong), headline = the(".answer");
  let duty = null, line = "";
  readLimits();
  job.hose = sum(rig.hoses, hose => hose.length);
  if (!wrong.length) {
    try {
      duty = solve(rig);
      duty = { ...duty, ...beside(rig, duty) };
      line = duty.full ? w.ws_full_flow : regulated(duty, rig.pump.flow);
    } catch (error) { line = sayRefusal(error); }
  }
  for (const box of all(".ws-result")) box.hidden = !duty;
  setText(headline, wrong.length ? w.ws_still_needed : line);
  the(".ws-needed").replaceChildren(...wrong.slice(0, 12).map(field => el("li", {}, el("a", {
    href: "#" + field.input.id,
    click: event => {
      const fold = field.input.closest("details");
      event.preventDefault();
      fold.open = true;
      field.input.focus();
    }
  }, field.title))));
  if (duty) showAll(rig, duty);
  keepAddress();
}
function showRows(duty, from, to) {
  for (const box of all("[data-v]", the(".ws-answers")).slice(from, to)) {
    showRow(box, duty[box.dataset.v], duty.margins[box.dataset.v]);
  }
}
function showAll(rig, duty) {
  showRows(duty, 0, 6);
  showCautions(cautionsOf(rig, duty));
  const then = showWhatIf(rig, duty), now = then || duty;
  for (const cell of all("[data-now]")) {
    const id = cell.dataset.now, what = KINDS[id], by = now[id] - duty[id];
    const [first, other] = both(now[id], what, 3);
    setText(cell.children[1], first);
    setText(cell.children[2], then ? (by > 0 ? "+" : "") + both(by, what, 2)[0] : other);
  }
  the(".ws-now").classList.toggle("ws-over", now.nozzle > limits.most || Boolean(limits.ceiling && limits.ceiling.jet));
  // What lies further down follows once the first answers stand, and is read out then.
  clearTimeout(laterTimer);
  laterTimer = setTimeout(() => {
    showRows(solve(rig, beside), 6);
    the("[data-v=push] small").append(". " + w[hold(duty.push)]);
    drawWalk(the("#ws-walk"), rig, duty, limits.most);
    drawCurves(the("#ws-curves"), rig, duty);
    the("#ws-pipe").parentNode.hidden = duty.brim === undefined;
    if (duty.brim !== undefined) drawPipe(the("#ws-pipe"), duty.part, job.pipe);
    showSuits(rig);
    showWorking(rig, duty);
    setText(the(".ws-spoken"), all("[data-now]").map(cell =>
      the("small", cell).textContent + " " + the("b", cell).textContent).join(", "));
  }, 150);
}
function keepAddress() {
  clearTimeout(addressTimer);
  addressTimer = setTimeout(() => {
    mine = "#" + encode(collect());
    try { history.replaceState(null, "", mine); } catch (error) { /* asked too often: the next change writes it */ }
  }, 250);
}
function fromAddress() {
  if (location.hash === mine) return;
  mine = location.hash;
  const told = [], setup = decode(mine, told);
  try {
    // Without an address: the machine chosen on this phone, and the first nozzle that goes with it.
    const kept = JSON.parse(mine ? "null" : localStorage.getItem("refgen:machine"));
    if (kept) FILL.machine(setup, kept.id).slice(0, 1).forEach(id => FILL.nozzle(setup, id));
  } catch (error) { /* nothing is remembered, or it is gone */ }
  the(".ws-told").replaceChildren(...told.map(text => el("li", {}, text)));
  load(setup);
}

// ---- short sums
function openSum(id) {
  const one = data.form.sums.find(sum => sum.id === id);
  toggles.sums[id] = toggles.sums[id] || bindAll(the("#sum-" + id), one.fields, "sum-" + id, () => { workSum(id); keepAddress(); });
}
function workSum(id) {
  const box = the("#sum-" + id), wrong = [], given = valuesOf(toggles.sums[id], wrong);
  let found = { values: {}, margins: {}, say: "" }, line = "";
  try {
    if (wrong.length) refuse("ws_sum_needs", { fields: wrong.map(field => field.title).join(", ") });
    found = sumUp(id, given, data.form.sums.find(sum => sum.id === id).fields);
    line = found.say && w[found.say];
  } catch (error) { line = sayRefusal(error); }
  setText(the(".ws-line", box), line);
  for (const row of all("[data-v]", box)) showRow(row, found.values[row.dataset.v], found.margins[row.dataset.v]);
}

// ---- keep and send
function takeYaml(text) {
  const note = the("#ws-yaml-note");
  try {
    load(fromYaml(text));
    setText(note, w.ws_yaml_read);
  } catch (error) { setText(note, sayRefusal(error)); }
}
const ACTS = {
  copy: () => {
    // Where nothing may be copied, the address stands there to be copied by hand.
    const address = location.href.split("#")[0] + "#" + encode(collect());
    the("#ws-yaml").value = address;
    navigator.clipboard?.writeText(address).then(() => setText(the("#ws-yaml-note"), w.copied));
  },
  save: () => {
    const text = toYaml(collect()), link = el("a", { download: "setup.yml" });
    the("#ws-yaml").value = text;
    link.href = URL.createObjectURL(new Blob([text], { type: "text/yaml" }));
    link.click();
  },
  read: () => takeYaml(the("#ws-yaml").value)
};

if (place) {
  for (const group of GROUPS) groups[group] = bindAll(the("[data-g=" + group + "]"), FORM[group], group, update);
  for (const kind of IDS) the("#ws-pick-" + kind).onchange = event => pick(kind, event.target.value);
  for (const button of all("[data-add]")) button.onclick = () => {
    const row = addRow(button.dataset.add, blank(FORM[button.dataset.add]));
    row.fields[0].input.focus();
    update();
  };
  for (const chip of all("[data-if]")) chip.onclick = () => { ifs = { ...ifs, [chip.dataset.if]: chip.value }; update(); };
  for (const fold of all("[data-sum]")) fold.ontoggle = () => {
    if (!fold.open) return;
    openSum(fold.dataset.sum);
    workSum(fold.dataset.sum);
  };
  for (const button of all("[data-act]")) button.onclick = ACTS[button.dataset.act];
  the("#ws-file").onchange = event => {
    const reader = new FileReader();
    reader.onload = () => {
      the("#ws-yaml").value = reader.result;
      takeYaml(reader.result);
    };
    if (event.target.files[0]) reader.readAsText(event.target.files[0].slice(0, 20000));
  };
  addEventListener("hashchange", fromAddress);
  fromAddress();
  place.hidden = false;
}
data.model = {
  solve: solve, workingPoint: workingPoint, causes: k.causes, partFull: partFull, parse: parse, toYaml: toYaml, fromYaml: fromYaml,
  encode: encode, decode: decode, sumUp: sumUp, grain: largestGrainMoved, waterAt: waterAt, show: show
};
