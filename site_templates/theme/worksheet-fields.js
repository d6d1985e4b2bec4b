// The worksheet's form: the page holds it, here it is bound to how its fields are read, row by row,
// and turned into a rig. Elements are made one by one and texts set; nothing makes HTML from text.
const place = document.getElementById("worksheet");
const the = (selector, within = place) => within.querySelector(selector);
const all = (selector, within = place) => [...within.querySelectorAll(selector)];
const bound = {},
  groups = {},
  rows = { hose: [], jet: [] };
let ids, ifs, loading, nozzleRecord, limits, job, pumpNow, addressTimer, laterTimer;

function el(tag, attributes, ...kids) {
  const made = document.createElement(tag);
  for (const name in attributes) {
    if (typeof attributes[name] === "function") made.addEventListener(name, attributes[name]);
    else made.setAttribute(name, attributes[name]);
  }
  made.append(...kids);
  return made;
}
function setText(node, text) {
  if (node.textContent !== text) node.textContent = text;
}
function sayRefusal(error) {
  if (!(error instanceof Refusal)) throw error;
  return say(error.word, error.values);
}
function pressureIn(si) {
  return inBoth(si, "pressure");
}

// ---- fields: what the page holds, bound to how it is read
function bind(box, spec, id, changed) {
  const input = the(".ws-in > *", box),
    note = the("p", box),
    units = unitsOf(spec.of);
  const choice = spec.of === "choice",
    title = the("label", box);
  const usual = spec.unit || (units[0] && data.first && units[0].twin) || (units[0] || {}).symbol;
  let unitBox = null;
  const unitNow = () => (unitBox ? BY_SYMBOL.get(unitBox.value) : units[0]);
  const free = text => attempt(() => parse(text, spec, unitNow(), true));
  const get = () => {
    const text = input.value.trim(),
      read = !choice && text && free(text);
    return read ? read.number + (read.unit ? " " + read.unit.symbol : "") : text;
  };
  const set = text => {
    const read = !choice && text && free(text);
    input.value = read ? read.number : text;
    if (choice && input.selectedIndex < 0) input.value = spec.is;
    if (unitBox && (read || !text)) unitBox.value = read ? read.unit.symbol : usual;
  };
  // The value in SI, undefined where nothing is typed, null where it cannot be taken.
  const read = () => {
    const text = input.value.trim();
    let line = "",
      found;
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
    input.addEventListener("change", () => {
      if (input.value) set(get());
      changed();
    });
    if (units.length > 1) {
      unitBox = el(
        "select",
        { "aria-label": say("ws_unit_of", { field: title.textContent }), "change": changed },
        ...units.map(unit => new Option(unit.word, unit.symbol))
      );
      input.after(unitBox);
    } else if (units[0]) {
      input.after(units[0].word);
    }
    set(spec.is);
  }
  return { input: input, title: title.textContent, spec: spec, get: get, set: set, read: read };
}
function bindAll(box, fields, id, changed) {
  return fields.map(field =>
    bind(the("[data-f=" + field.id + "]", box), field, id + "-" + field.id, changed)
  );
}
function texts(group) {
  return Object.fromEntries(group.map(field => [field.spec.id, field.get()]));
}
function fill(group, from) {
  for (const field of group) field.set(from[field.spec.id] || "");
}
// Reads a group into SI; what is missing or cannot be taken goes into `wrong`.
function valuesOf(group, wrong) {
  return Object.fromEntries(
    group.map(field => {
      const value = field.read();
      if (value === null || (value === undefined && field.spec.needed)) wrong.push(field);
      return [field.spec.id, value ?? undefined];
    })
  );
}

// ---- hoses and jets, row by row
let made = 0;
function addRow(kind, start) {
  const box = the("#ws-" + kind).content.firstElementChild.cloneNode(true),
    list = rows[kind];
  const row = {
    box: box,
    id: start.id || "",
    fields: bindAll(box, FORM[kind], kind + (made += 1), update)
  };
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

// ---- from the fields to a rig
// The reading that sized these jets of a nozzle on the machine, if it was taken with it: jets of any
// other size are known by their size alone.
function readingWith(nozzle, jets) {
  const reading = data.read[ids.machine + "/" + nozzle];
  return reading && abs(totalArea(jets) / areaRead(reading) - 1) < 0.01 ? reading : null;
}
function readRig(wrong) {
  pumpNow = valuesOf(groups.pump, wrong);
  job = valuesOf(groups.job, wrong);
  const nozzle = valuesOf(groups.nozzle, wrong);
  job.stiff = nozzle.stiff;
  const rig = {
    temperature: job.water,
    cv: nozzle.cv,
    below: job.below,
    pump: { flow: pumpNow.flow, pressure: pumpNow.pressure, unloader: pumpNow.unloader ?? null },
    hoses: rows.hose.map(row => {
      const hose = valuesOf(row.fields, wrong);
      const stock = data.hoses[row.id] || {};
      return {
        ...hose,
        onReel: hose.onReel || 0,
        reel: hose.reel ?? null,
        tag: siOf(stock.rating, "pressure"),
        warmest: siOf(stock.warmest, "temperature")
      };
    }),
    jets: rows.jet.map(row => {
      const jet = valuesOf(row.fields, wrong),
        byNumber = jet.number !== undefined;
      if (byNumber === (jet.bore !== undefined))
        wrong.push({ ...row.fields[1], title: w.ws_bore_or_number });
      return {
        ...jet,
        byNumber: byNumber,
        area: byNumber ? areaOfNumber(jet.number) : areaOfBore(jet.bore, nozzle.cd)
      };
    })
  };
  return { ...rig, reading: readingWith(ids.nozzle, rig.jets) };
}
function readLimits() {
  const [name, condition] = (ids.material || "").split("/"),
    material = data.materials[name];
  nozzleRecord = data.nozzles[ids.nozzle];
  limits = { keepOff: [] };
  if (material) {
    const ceiling = material.ceilings[condition];
    limits = {
      ceiling: ceiling,
      most: siOf(ceiling.is, "pressure"),
      heat: siOf(material.heat, "temperature"),
      keepOff: material.keepOff || [],
      material: material,
      condition: condition
    };
  }
}
// Numbers beside the duty, which then get margins too.
function beside(rig, duty) {
  const water = waterAt(rig.temperature),
    found = {},
    running = duty.flow + (job.also || 0);
  const weights = rig.hoses
    .filter(hose => hose.weight)
    .map(hose => hoseWeight(hose.weight, hose.bore, water.density));
  if (weights.length) {
    const rise = Math.atan(job.fall) * (job.way === "down" ? -1 : 1);
    const bends = Array(job.bends).fill({ at: job.bendAt || 0, angle: PI / 2 });
    for (const [id, friction] of [
      ["near", k.hardFriction],
      ["far", k.easyFriction]
    ]) {
      const to = attempt(() => reach(duty.pull, max(...weights), friction, rise, bends));
      if (to !== null) found[id] = min(to, job.hose);
    }
  }
  found.push = reaction(duty.flow, duty.jet_velocity, water.density);
  found.lasts = pumpNow.tank / max(duty.flow - (pumpNow.supply || 0), 0);
  found.engine = (rig.pump.flow * duty.gauge) / k.pumpEfficiency;
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
    const limit = limitOf(rig.pump),
      dial = k.dials.find(end => limit <= (end * 2) / 3) ?? limit * 1.5;
    found.setting =
      attempt(() =>
        regulatorSetting(
          limits.most,
          k.gaugeClass * dial,
          job.overshoot,
          rig.below,
          water.density,
          [rig.pump.pressure, ...ratings]
        )
      ) ?? undefined;
  }
  if (!duty.full && duty.flow) {
    found.needs =
      attempt(
        () =>
          flowPath(rig.hoses, totalArea(rig.jets), water).demand(rig.pump.flow) -
          water.density * k.gravity * rig.below
      ) ?? undefined;
  }
  return found;
}
