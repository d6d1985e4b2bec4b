// The worksheet's page: fields in, answers out. Elements are made and text is set; nothing here
// makes HTML or code from text.
(function (sheet) {
  "use strict";
  var place = document.getElementById("worksheet"), data = sheet.data;
  if (!place || !data) return;
  var w = data.words, k = data.constants, form = data.form.setup, m = sheet.model(k);
  var u = sheet.units(data, m.refuse), s = sheet.setup(data, u, m.refuse), own = s.own;
  var sums = sheet.sums(m, k), draw = sheet.pictures(m, k, u);
  var picks = { machine: "", carried: "", nozzleId: "", material: "", condition: "unknown" };
  var groups = {}, rows = { hose: [], jet: [] }, what = {}, openSums = {}, loading = false, last = null;

  function el(tag, attributes) {
    var made = document.createElement(tag), name, value;
    for (name in attributes) {
      value = attributes[name];
      if (name === "text") made.textContent = value;
      else if (typeof value === "function") made.addEventListener(name, value);
      else if (value !== undefined && value !== false) made.setAttribute(name, value === true ? "" : value);
    }
    for (var i = 2; i < arguments.length; i += 1) {
      [].concat(arguments[i]).forEach(function (kid) { if (kid) made.append(kid); });
    }
    return made;
  }
  function heading(word) { return el("h2", { text: w[word] }); }
  function button(word, act, more) {
    return el("button", m.replaced({ type: "button", "class": "ws-button", text: w[word], click: act }, more || {}));
  }
  function told(error) {
    if (!error || !error.refused) throw error;
    var values = error.value;
    return u.said(error.refused, values && typeof values === "object" ? values : { value: values });
  }

  // ---- fields
  function makeField(spec, path, changed) {
    var id = "ws-" + path, units = u.of(spec.of), unitBox = null, label = w[spec.word], input, beside = null;
    var say = el("p", { "class": "ws-say", id: id + "-say" });
    function current() {
      return unitBox ? u.unitOf[unitBox.value] : units[0] || null;
    }
    if (spec.of === "choice") {
      input = el("select", { id: id, change: changed }, spec.choices.map(function (c) {
        return el("option", { value: c[0], text: w[c[1]] });
      }));
    } else {
      input = el("input", {
        id: id, type: "text", autocomplete: "off", autocapitalize: "off", spellcheck: "false",
        enterkeyhint: "done", maxlength: 60, "aria-describedby": id + "-say", input: changed,
        change: function () { set(get()); changed(); },
        focus: function () { input.select(); }
      });
      if (units.length > 1) {
        beside = unitBox = el("select", {
          "aria-label": u.said("ws_unit_of", { field: label }), change: changed
        }, units.map(function (unit) { return el("option", { value: unit.symbol, text: unit.word }); }));
        var first = units[0], other = u.unitOf[first.twin];
        unitBox.value = (data.first && other ? other : first).symbol;
      } else if (units.length) {
        beside = el("span", { text: units[0].word });
      }
    }
    function get() {
      var text = input.value.trim();
      if (spec.of === "choice" || !text) return text;
      try {
        var read = u.parse(text, u.free(spec), current());
        return read.unit ? read.number + " " + read.unit.symbol : read.number;
      } catch (error) { return text; }
    }
    function set(text) {
      var unit = unitBox && text && u.named(spec.of, text), read;
      if (spec.of === "choice") {
        input.value = text;
        if (input.selectedIndex < 0) input.value = spec.is;
        return;
      }
      input.value = unit ? "" : text;
      if (unit) unitBox.value = unit.symbol;
      if (unit || !text) return;
      try { read = u.parse(text, u.free(spec), current()); } catch (error) { return; }
      input.value = read.number;
      if (unitBox) unitBox.value = read.unit.symbol;
    }
    // The value in SI; undefined where nothing is typed; null where it cannot be taken.
    function read() {
      if (spec.of === "choice") return input.value;
      var text = input.value.trim(), found, line = "", bad = false, twin;
      if (text) {
        try {
          found = u.parse(text, spec, current());
          twin = found.unit && u.unitOf[found.unit.twin];
          if (twin) line = "= " + u.show(found.si, twin, 3);
          if (found.unit && found.unit !== current()) line = found.unit.word + (line ? " " + line : "");
        } catch (error) {
          line = told(error.refused === "ws_say_unit" ? { refused: "ws_say_unit", value: {
            name: error.value, names: units.slice(0, 4).map(function (unit) { return unit.symbol; }).join(", ")
          } } : error);
          bad = true;
        }
      }
      if (say.textContent !== line) say.textContent = line;
      if (field.bad !== bad) {
        field.bad = bad;
        input.setAttribute("aria-invalid", bad);
        box.classList.toggle("ws-bad", bad);
      }
      return bad ? null : found && found.si;
    }
    var box = el("div", { "class": "ws-field" }, el("label", { "for": id, text: label }),
      el("div", { "class": "ws-in" }, input, beside), say);
    var field = { box: box, get: get, set: set, read: read, spec: spec, label: label, id: id, bad: false };
    set(spec.is || "");
    return field;
  }
  function makeGroup(specs, path, changed) {
    var group = {};
    specs.forEach(function (spec) { group[spec.id] = makeField(spec, path + "-" + spec.id, changed); });
    return group;
  }
  function eachField(group, act) { Object.keys(group).forEach(function (id) { act(group[id], id); }); }
  function boxes(group) { return Object.keys(group).map(function (id) { return group[id].box; }); }
  function texts(group) {
    var found = {};
    eachField(group, function (field, id) { found[id] = field.get(); });
    return found;
  }
  function setTexts(group, values) {
    eachField(group, function (field, id) { field.set(values[id] || ""); });
  }
  // Reads a group into SI; what is missing or cannot be taken goes into `wrong`.
  function values(group, wrong) {
    var found = {};
    eachField(group, function (field, id) {
      var value = field.read();
      if (value === null || (value === undefined && field.spec.needed)) wrong.push(field);
      found[id] = value === null ? undefined : value;
    });
    return found;
  }

  // ---- hoses and jets, row by row
  var rowCount = 0;
  function addRow(kind, start) {
    rowCount += 1;
    var group = makeGroup(form[kind], kind + rowCount, update), list = rows[kind];
    var row = { group: group, id: "" };
    row.box = el("fieldset", { "class": "ws-row" }, el("legend"), el("div", { "class": "ws-fields" }, boxes(group)),
      button("ws_take_out", function () {
        list.splice(list.indexOf(row), 1);
        row.box.remove();
        numberRows(kind);
        update();
        adders[kind].focus();
      }));
    if (start) { setTexts(group, start); row.id = start.id || ""; }
    list.push(row);
    holders[kind].append(row.box);
    numberRows(kind);
    return row;
  }
  function numberRows(kind) {
    rows[kind].forEach(function (row, i) {
      row.box.firstChild.textContent = u.said(kind === "hose" ? "ws_hose_number" : "ws_jets_number", { number: i + 1 });
    });
    adders[kind].hidden = rows[kind].length >= s.most;
  }
  function clearRows(kind, starts) {
    rows[kind].forEach(function (row) { row.box.remove(); });
    rows[kind].length = 0;
    starts.forEach(function (start) { addRow(kind, start); });
    numberRows(kind);
  }
  var holders = { hose: el("div"), jet: el("div") };
  var adders = {
    hose: button("ws_add_hose", function () { addRow("hose").box.querySelector("input").focus(); update(); }),
    jet: button("ws_add_jets", function () { addRow("jet").box.querySelector("input").focus(); update(); })
  };

  // ---- the state of the form
  function collect() {
    var state = m.replaced(picks, { what: what, sums: {} });
    ["pump", "nozzle", "job"].forEach(function (name) { state[name] = texts(groups[name]); });
    state.hoses = rows.hose.map(function (row) { return m.replaced(texts(row.group), { id: row.id }); });
    state.jets = rows.jet.map(function (row) { return texts(row.group); });
    Object.keys(openSums).forEach(function (id) { state.sums[id] = texts(openSums[id].group); });
    return state;
  }
  function load(state) {
    loading = true;
    Object.keys(picks).forEach(function (name) { picks[name] = state[name]; });
    ["pump", "nozzle", "job"].forEach(function (name) { setTexts(groups[name], state[name]); });
    clearRows("hose", state.hoses);
    clearRows("jet", state.jets);
    what = m.replaced(state.what, {});
    Object.keys(state.sums).forEach(function (id) {
      var shown = makers[id]();
      setTexts(openSums[id].group, state.sums[id]);
      shown.open = true;
    });
    showPicks();
    loading = false;
    update();
  }

  // ---- pick lists
  function select(word, options, act) {
    var id = "ws-" + word, list = el("select", { id: id, change: function () { act(list.value); } });
    return { box: el("div", { "class": "ws-field" }, el("label", { "for": id, text: w[word] }), list), list: list };
  }
  function option(value, text) { return el("option", { value: value, text: text }); }
  function titled(map, ids) {
    return (ids || Object.keys(map)).map(function (id) { return option(id, map[id].title); });
  }
  var pickMachine = select("ws_pick_machine", null, function (value) {
    var ids = value.split("/"), state = collect(), fits;
    if (!value) { state.machine = state.carried = ""; load(state); return; }
    var carried = s.fillMachine(state, ids[0], ids[1]);
    fits = carried.nozzles || [];
    if (fits.length && fits.indexOf(state.nozzleId) < 0) s.fillNozzle(state, fits[0]);
    state.what = {};
    load(state);
  });
  var pickNozzle = select("ws_pick_nozzle", null, function (value) {
    var state = collect();
    state.nozzleId = "";
    if (value) s.fillNozzle(state, value);
    state.what = {};
    load(state);
  });
  var pickMaterial = select("ws_pick_pipe", null, function (value) {
    var state = collect();
    state.material = "";
    if (value) s.fillMaterial(state, value, "unknown");
    load(state);
  });
  var pickCondition = select("ws_pick_condition", null, function (value) {
    picks.condition = value;
    update();
  });
  function carriedNow() {
    var machine = own(data.machines, picks.machine);
    return machine && machine.hoses.filter(function (hose) { return hose.id === picks.carried; })[0];
  }
  function showPicks() {
    var carried = carriedNow(), near = (carried && carried.nozzles) || [];
    var rest = Object.keys(data.nozzles).filter(function (id) { return near.indexOf(id) < 0; });
    pickNozzle.list.replaceChildren(option("", w.ws_own_nozzle));
    [[near, "nozzles_carried"], [rest, "ws_in_stock"]].forEach(function (part) {
      if (part[0].length) pickNozzle.list.append(el("optgroup", { label: w[part[1]] }, titled(data.nozzles, part[0])));
    });
    pickMachine.list.value = picks.machine ? picks.machine + "/" + picks.carried : "";
    pickNozzle.list.value = picks.nozzleId;
    pickMaterial.list.value = picks.material;
    var material = own(data.materials, picks.material);
    pickCondition.box.hidden = !material;
    if (material) {
      pickCondition.list.replaceChildren.apply(pickCondition.list, Object.keys(material.ceilings).map(function (name) {
        return option(name, w["condition_" + name]);
      }));
      pickCondition.list.value = picks.condition;
    }
  }
  pickMachine.list.append(option("", w.ws_own_machine));
  Object.keys(data.machines).forEach(function (id) {
    data.machines[id].hoses.forEach(function (hose) {
      pickMachine.list.append(option(id + "/" + hose.id, u.said("machine_with_hose", {
        machine: data.machines[id].title, hose: data.hoses[hose.hose].title
      })));
    });
  });
  pickMaterial.list.append.apply(pickMaterial.list, [option("", w.ws_no_pipe)].concat(titled(data.materials)));

  // ---- answers
  var ROWS = [
    ["gauge", "ws_gauge", "pressure"], ["nozzle", "left_at_nozzle", "pressure"],
    ["hose_loss", "lost_in_hose", "pressure"], ["flow", "ws_through_nozzle", "flow"],
    ["bypass", "ws_to_tank", "flow"], ["pull", "pull", "force"], ["far", "ws_reach", "length"],
    ["lasts", "ws_lasts", "time"], ["push", "ws_as_lance", "force"],
    ["jet_velocity", "ws_jet_velocity", "speed"], ["jet_power", "ws_jet_power", "power"],
    ["engine", "ws_engine", "power"], ["needs", "ws_needs", "pressure"],
    ["setting", "ws_setting", "pressure"], ["depth", "ws_depth", "small length"],
    ["velocity", "ws_water_speed", "speed"], ["grain", "ws_grain", "small length"]
  ];
  var lines = {}, facts = el("dl", { "class": "facts" });
  function line(word) {
    var found = { first: el("b"), other: el("span"), may: el("small"), dt: el("dt", { text: w[word] }) };
    found.box = el("div", { hidden: true }, found.dt, el("dd", {}, found.first, " ", found.other, found.may));
    return found;
  }
  ROWS.forEach(function (row) {
    lines[row[0]] = line(row[1]);
    facts.append(lines[row[0]].box);
  });
  function setText(node, text) { if (node.textContent !== text) node.textContent = text; }
  function digits(value, margin) {
    return margin && Math.max(margin.lower, margin.upper) > Math.abs(value) * 0.1 ? 2 : 3;
  }
  function may(value, margin, what, low, cause) {
    var least = Math.max(value - margin.lower, Math.min(value, low === undefined ? -Infinity : low));
    if (!margin.lower && !margin.upper) return w.ws_exact;
    return u.said(cause ? "ws_may_be" : "ws_may_be_only", {
      low: u.both(least, what, 3)[0], high: u.both(value + margin.upper, what, 3)[0], cause: cause
    });
  }
  function fillLine(found, value, margin, what, low, causes) {
    var shown = value === undefined || value === null ? null : u.both(value, what, digits(value, margin));
    if (found.box.hidden === Boolean(shown)) found.box.hidden = !shown;
    if (!shown) return;
    setText(found.first, shown[0]);
    setText(found.other, shown[1] ? "(" + shown[1] + ")" : "");
    setText(found.may, margin ? may(value, margin, what, low, causes && causes(margin.cause)) : "");
  }
  function causeOf(cause) { return w["ws_cause_" + cause.replace(/-/g, "_")] || ""; }

  // ---- what a setup comes to
  function readAll(wrong) {
    var pump = values(groups.pump, wrong), job = values(groups.job, wrong), nozzle = values(groups.nozzle, wrong);
    var hoses = rows.hose.map(function (row) {
      var hose = values(row.group, wrong), stock = own(data.hoses, row.id);
      return m.replaced(hose, { onReel: hose.onReel || 0, reel: hose.reel === undefined ? null : hose.reel, stock: stock });
    });
    var jets = rows.jet.map(function (row) {
      var jet = values(row.group, wrong), both = jet.bore !== undefined && jet.number !== undefined;
      if (both || (jet.bore === undefined && jet.number === undefined && !row.group.bore.bad && !row.group.number.bad)) {
        wrong.push(m.replaced(row.group.bore, { label: w.ws_bore_or_number }));
      }
      var byNumber = jet.number !== undefined;
      return {
        count: jet.count, angle: jet.angle, faces: jet.faces, byNumber: byNumber, bore: jet.bore,
        area: byNumber ? m.areaOfNumber(jet.number) : m.areaOfBore(jet.bore, nozzle.cd)
      };
    });
    return {
      rig: {
        temperature: job.water,
        pump: { flow: pump.flow, pressure: pump.pressure, unloader: pump.unloader === undefined ? null : pump.unloader },
        hoses: hoses, jets: jets, cv: nozzle.cv, below: job.below
      },
      pump: pump, job: job, nozzle: nozzle
    };
  }
  function read(text, dimension) { return text ? u.parse(text, { of: dimension, low: -Infinity }, null).si : undefined; }
  function pipeLimits(all) {
    var material = own(data.materials, picks.material), ceiling = material && own(material.ceilings, picks.condition);
    if (!ceiling) return {};
    var most = read(ceiling.is, "pressure");
    // The least of what the hoses' tags allow goes before the pipe's ceiling.
    return { material: material, ceiling: ceiling, most: most, barred: Boolean(ceiling.jet), heat: read(material.heat, "temperature") };
  }
  function ratings(rig) {
    return rig.hoses.map(function (hose) { return hose.stock && read(hose.stock.rating, "pressure"); })
      .filter(Boolean).concat(rig.pump.pressure);
  }
  // Numbers beside the duty that also get margins.
  function beside(all, limits) {
    return function (rig, duty) {
      var found = {}, job = all.job, water = m.waterAt(rig.temperature);
      var weights = rig.hoses.filter(function (hose) { return hose.weight; }).map(function (hose) {
        return m.hoseWeight(hose.weight, hose.bore, water.density);
      });
      if (weights.length) {
        var heaviest = Math.max.apply(null, weights), fall = Math.atan(job.fall) * (job.way === "down" ? -1 : 1);
        var bends = [], length = m.sum(rig.hoses, function (hose) { return hose.length; });
        for (var i = 0; i < job.bends; i += 1) bends.push({ at: job.bendAt || 0, angle: Math.PI / 2 });
        ["hardFriction", "easyFriction"].forEach(function (name, i) {
          var to = m.attempt(function () { return m.reach(duty.pull, heaviest, k[name], fall, bends, 0); });
          if (to !== null) found[i ? "farthest" : "far"] = Math.min(to, length);
        });
      }
      found.push = m.reaction(duty.flow, duty.jet_velocity, water.density);
      if (all.pump.tank !== undefined && duty.flow > (all.pump.supply || 0)) {
        found.lasts = all.pump.tank / (duty.flow - (all.pump.supply || 0));
      }
      found.engine = rig.pump.flow * duty.gauge / k.pumpEfficiency;
      if (job.pipe) {
        found.full = 0;
        var running = duty.flow + (job.also || 0);
        var part = running ? m.attempt(function () { return m.partFull(running, job.pipe, job.fall, job.n); }) : null;
        if (part) {
          found.depth = part.depth * job.pipe;
          found.velocity = part.velocity;
          found.grain = m.largestGrainMoved(part.shear, water) || 0;
        } else if (running) {
          found.full = 1;
        }
      }
      if (limits.most && !limits.barred) {
        var setting = m.attempt(function () {
          return m.regulatorSetting(limits.most, k.widths.pressure_limit * m.limitOf(rig.pump), job.overshoot,
            rig.below, water.density, ratings(rig));
        });
        if (setting !== null) found.setting = setting;
      }
      if (duty.state === "regulated" && duty.flow) {
        var needs = m.attempt(function () {
          return new m.FlowPath(rig.hoses, m.totalArea(rig.jets), water).demand(rig.pump.flow) -
            water.density * k.gravity * rig.below;
        });
        if (needs !== null) found.needs = needs;
      }
      return found;
    };
  }

  // ---- cautions
  function caution(list, signal, word, given) { list.push([signal, u.said(word, given)]); }
  function pressure(si) { return u.joined(u.both(si, "pressure", 3)); }
  function findCautions(all, duty, margins, limits) {
    var found = [], rig = all.rig, limit = m.limitOf(rig.pump), head = duty.nozzle + duty.hose_loss - duty.gauge;
    if (limits.ceiling) {
      if (limits.ceiling.jet === "no") caution(found, "danger", "ws_no_jet");
      else if (limits.barred) caution(found, "danger", "ws_only_if", { condition: limits.ceiling.jet });
      if (limits.most && duty.nozzle + margins.nozzle.upper > limits.most) {
        caution(found, "warning", duty.nozzle > limits.most ? "ws_over_ceiling" : "ws_may_be_over", {
          nozzle: pressure(duty.nozzle), ceiling: pressure(limits.most)
        });
      }
      if (limits.most && limit + Math.max(head, 0) > limits.most && duty.nozzle <= limits.most) {
        caution(found, "caution", "ws_over_if_plugged", { limit: pressure(limit), ceiling: pressure(limits.most) });
      }
      if (limits.heat && rig.temperature > limits.heat) {
        caution(found, "warning", "ws_too_warm", { limit: u.joined(u.both(limits.heat, "temperature", 3)) });
      }
      var nozzle = own(data.nozzles, picks.nozzleId);
      if (nozzle && (limits.material.keepOff || []).indexOf(nozzle.pattern) >= 0) caution(found, "warning", "ws_keep_off");
    }
    rig.hoses.forEach(function (hose, i) {
      var rating = hose.stock && read(hose.stock.rating, "pressure"), warmest = hose.stock && read(hose.stock.warmest, "temperature");
      if (rating && limit > rating) {
        caution(found, "danger", "ws_over_tag", { number: i + 1, limit: pressure(limit), tag: pressure(rating) });
      }
      if (warmest && rig.temperature > warmest) caution(found, "warning", "ws_hose_warm", { number: i + 1 });
    });
    if (rig.pump.unloader > rig.pump.pressure) caution(found, "warning", "ws_unloader_above");
    if (duty.pull < 0) caution(found, "danger", "ws_pushes_out");
    if (duty.notes[0] === "all-jets-plugged") caution(found, "warning", "ws_all_plugged");
    else if (duty.state === "regulated") caution(found, "caution", "ws_never_raise");
    if (all.nozzle.stiff && all.job.pipe && all.nozzle.stiff < k.careful * all.job.pipe) {
      caution(found, "warning", all.nozzle.stiff < all.job.pipe ? "ws_say_turns" : "ws_say_may_turn");
    }
    var hold = m.hold(duty.push);
    if (hold !== "hands") caution(found, "warning", "ws_hold_" + hold);
    if (duty.full) caution(found, "caution", "ws_runs_full");
    if (all.pump.power && duty.engine > all.pump.power * 1.001) caution(found, "caution", "ws_engine_short");
    if (duty.notes[0] === "coil-beyond-published-range") caution(found, "notice", "ws_coil_note");
    if (margins.left_out.length) caution(found, "notice", "ws_left_out");
    return found;
  }
  function inOrder(found, limits) {
    var boxes = ["danger", "warning", "caution", "notice"].map(function (signal) {
      var mine = found.filter(function (one) { return one[0] === signal; });
      return mine.length && el("div", { "class": "caution sig-" + signal }, el("b", { "class": "sig", text: w["signal_" + signal] }),
        mine.map(function (one) { return el("span", { text: one[1] }); }));
    }).filter(Boolean);
    if (limits.material && !found.some(function (one) { return /danger|warning/.test(one[0]); })) {
      boxes.push(el("p", { "class": "ws-inside", text: w.ws_inside }));
    }
    if (limits.material) {
      boxes.push(el("p", {}, el("a", {
        "class": "row", href: limits.material.href + "#" + picks.condition,
        text: limits.material.title + ": " + w["condition_" + picks.condition] + (limits.most ? ", " + pressure(limits.most) : "") +
          " (" + limits.ceiling.mark + ")"
      })));
    }
    return boxes;
  }

  // ---- what if
  function changedRig(rig, duty) {
    var hoses = rig.hoses.slice(), pump = m.replaced(rig.pump, {}), main = 0, number = function (name) { return Number(what[name]); };
    duty.segment_losses.forEach(function (lost, i) { if (lost > duty.segment_losses[main]) main = i; });
    if (hoses.length) {
      var hose = hoses[main], bore = k.bores.filter(function (b) { return b[0] === what.bore; })[0], times = number("length");
      if (bore) hose = m.replaced(hose, { bore: bore[1], weight: undefined, stock: undefined });
      if (times >= 0.1 && times <= 10) {
        hose = m.replaced(hose, { length: hose.length * times, onReel: Math.min(hose.onReel, hose.length * times) });
      }
      hoses[main] = hose;
    }
    var plugged = (what.plugged || "").split("-");
    var jets = rig.jets.map(function (jet, i) {
      var out = Math.min(Math.max(Math.floor(Number(plugged[i])) || 0, 0), jet.count), growth = number("worn");
      return m.replaced(jet, {
        count: jet.count - out, area: growth > 0 && growth <= 0.5 ? m.worn(jet.area, growth) : jet.area
      });
    });
    if (number("throttle") > 0 && number("throttle") <= 1) pump.flow *= number("throttle");
    if (what.pulse) pump.flow = m.pulsedFlow(pump.flow, last.all.pump.plungers);
    if (number("unloader") > 0) pump.unloader = Math.min(m.limitOf(pump), number("unloader"));
    if (number("up") > 0 && number("up") <= k.highest) {
      // What the engine still has, or had just enough for the plate, sets what the pump can hold.
      var power = (last.all.pump.power || rig.pump.flow * rig.pump.pressure / k.pumpEfficiency) * m.altitudeShares(number("up")).cautious;
      pump.unloader = Math.min(m.limitOf(pump), power * k.pumpEfficiency / pump.flow);
    }
    return m.replaced(rig, { hoses: hoses, jets: jets, pump: pump });
  }
  var DIFFERENCES = ROWS.filter(function (row) { return /^(gauge|nozzle|flow|bypass|pull|hose_loss)$/.test(row[0]); });
  var whatBody = el("tbody"), whatTable = el("table", { "class": "look ws-what" }, el("thead", {}, el("tr", {},
    el("td"), ["ws_now", "ws_then", "ws_difference"].map(function (word) { return el("th", { scope: "col", text: w[word] }); }))), whatBody);
  var whatSay = el("p", { role: "status" }), chipBox = el("div"), chipKey = "";
  function chips(word, options, chosen, choose) {
    return el("div", { "class": "ws-chips", role: "group", "aria-label": w[word] }, el("span", { text: w[word] }),
      options.map(function (one) {
        return el("button", {
          type: "button", "aria-pressed": String(one[0] === (chosen || "")), "data-chip": word + one[0], text: one[1],
          click: function () { choose(one[0]); update(); }
        });
      }));
  }
  function showChips(all, duty, setting) {
    var rig = all.rig, groupsMade = [], key = JSON.stringify([what, setting, rig, all.pump.plungers]);
    if (key === chipKey) return;
    chipKey = key;
    function put(name) { return function (value) { if (value) what[name] = value; else delete what[name]; }; }
    function share(values, sign) {
      return values.map(function (v) { return [String(v), u.roundTo(v * 100, 2) + "%"]; });
    }
    var same = [["", w.ws_as_is]], main = 0;
    duty.segment_losses.forEach(function (lost, i) { if (lost > duty.segment_losses[main]) main = i; });
    if (rig.hoses.length) {
      var hose = rig.hoses[main], near = k.bores.filter(function (b) {
        return b[1] > hose.bore * 0.45 && b[1] < hose.bore * 2.1 && Math.abs(b[1] / hose.bore - 1) > 0.02;
      });
      groupsMade.push(chips("ws_if_bore", same.concat(near.map(function (b) {
        return [b[0], data.first ? u.both(b[1], "small length", 2)[0] : b[0]];
      })), what.bore, put("bore")));
      groupsMade.push(chips("ws_if_length", same.concat([0.5, 1.5, 2].map(function (v) {
        return [String(v), u.both(hose.length * v, "length", 3)[0]];
      })), what.length, put("length")));
    }
    var out = (what.plugged || "").split("-");
    rig.jets.forEach(function (jet, i) {
      var options = [["", w.ws_none]];
      for (var n = 1; n <= Math.min(jet.count, 6); n += 1) options.push([String(n), String(n)]);
      if (jet.count > 6) options.push([String(jet.count), w.ws_all]);
      groupsMade.push(chips(jet.faces === "rear" ? "ws_if_plugged_rear" : "ws_if_plugged_front", options, out[i] === "0" ? "" : out[i], function (value) {
        var now = rig.jets.map(function (_, at) { return at === i ? value || "0" : out[at] || "0"; }).join("-");
        put("plugged")(/[1-9]/.test(now) ? now : "");
      }));
    });
    groupsMade.push(chips("ws_if_worn", same.concat(share([0.05, 0.1, 0.2])), what.worn, put("worn")));
    groupsMade.push(chips("ws_if_pulse", [["", w.ws_off], ["on", w.ws_on]], what.pulse, put("pulse")));
    groupsMade.push(chips("ws_if_throttle", same.concat(share([0.9, 0.8, 0.7, 0.6, 0.5])), what.throttle, put("throttle")));
    groupsMade.push(chips("ws_if_up", same.concat((data.first ? [500, 1000, 2000, 3000] : [762, 1524, 2286, 3048]).map(function (v) {
      return [String(v), u.both(v, "length", 3)[0]];
    })), what.up, put("up")));
    if (setting) {
      var at = String(Math.round(setting));
      groupsMade.push(chips("ws_if_unloader", same.concat([[at, u.both(setting, "pressure", 3)[0]]]), what.unloader && at, put("unloader")));
    }
    var held = document.activeElement && document.activeElement.getAttribute("data-chip");
    chipBox.replaceChildren.apply(chipBox, groupsMade);
    if (held) Array.prototype.forEach.call(chipBox.querySelectorAll("[data-chip]"), function (chip) {
      if (chip.getAttribute("data-chip") === held) chip.focus();
    });
  }
  function showWhatIf(all, duty, limits) {
    var then = null, trouble = "", any = Object.keys(what).some(function (name) { return what[name]; }), margin;
    if (any) {
      try {
        var rig = changedRig(all.rig, duty);
        then = m.workingPoint(rig);
        margin = m.margins(rig, k.widths);
      } catch (error) { trouble = told(error); }
    }
    whatTable.hidden = !then;
    if (then) whatBody.replaceChildren.apply(whatBody, DIFFERENCES.map(function (row) {
      var now = duty[row[0]], after = then[row[0]], by = after - now, pair = u.both(after, row[2], digits(after, margin[row[0]]));
      return el("tr", {}, el("th", { scope: "row", text: w[row[1]] }), el("td", { text: u.both(now, row[2], 3)[0] }),
        el("td", {}, el("span", { text: pair[0] }), el("span", { text: pair[1] }),
          el("small", { text: may(after, margin[row[0]], row[2]) })),
        el("td", { text: (by > 0 ? "+" : "") + u.both(by, row[2], 2)[0] }));
    }));
    var over = then && limits.most && then.nozzle > limits.most;
    setText(whatSay, trouble || (over ? u.said("ws_over_ceiling", { nozzle: pressure(then.nozzle), ceiling: pressure(limits.most) }) :
      then ? w[then.state === "regulated" ? "ws_then_regulated" : "ws_then_full"] : w.ws_tap_one));
    return then;
  }

  // ---- the nozzle that suits
  var suits = el("div");
  function showSuits(all, limits) {
    var rig = all.rig, kids = [], water = m.waterAt(rig.temperature), carried = carriedNow();
    if (limits.ceiling && limits.ceiling.jet === "no") {
      suits.replaceChildren(el("p", { text: w.ws_no_jet }));
      return;
    }
    try {
      var fit = m.fittingNozzle(rig.pump, rig.hoses, rig.temperature, rig.below), area = fit.area;
      if (limits.most) area = Math.max(area, m.areaFor(rig.pump.flow, limits.most, water.density));
      var keepOff = (limits.material && limits.material.keepOff) || [];
      var found = Object.keys(data.nozzles).map(function (id) {
        var nozzle = data.nozzles[id], total = 0;
        var jets = nozzle.jets.map(function (jet) {
          var one = jet.number ? m.areaOfNumber(Number(jet.number)) : m.areaOfBore(read(jet.bore, "length"), Number(nozzle.cd));
          total += one * jet.count;
          return { count: Number(jet.count), area: one, angle: read(jet.angle, "angle"), faces: jet.faces, byNumber: Boolean(jet.number) };
        });
        var bore = all.job.pipe, wide = bore && ((nozzle.from && bore < read(nozzle.from, "length")) || (nozzle.to && bore > read(nozzle.to, "length")));
        return {
          id: id, jets: jets, cv: Number(nozzle.cv), off: Math.abs(Math.log(total / area)), size: total / area,
          carried: carried && (carried.nozzles || []).indexOf(id) >= 0, out: wide || keepOff.indexOf(nozzle.pattern) >= 0
        };
      }).filter(function (one) { return !one.out && one.size > 0.9 && one.size < 1.8; });
      found.sort(function (a, b) { return (b.carried ? 1 : 0) - (a.carried ? 1 : 0) || a.off - b.off; });
      found.slice(0, 3).forEach(function (one) {
        var then = m.replaced(rig, { jets: one.jets, cv: one.cv }), duty = m.attempt(function () { return m.margins(then, k.widths) && m.workingPoint(then); });
        if (!duty || (limits.most && duty.nozzle > limits.most)) return;
        var margin = m.margins(then, k.widths);
        kids.push(el("div", { "class": "ws-suit" }, el("p", {}, el("a", { href: data.nozzles[one.id].href, text: data.nozzles[one.id].title }),
          el("span", { text: u.said("ws_suits_with", {
            nozzle: pressure(duty.nozzle), may: may(duty.nozzle, margin.nozzle, "pressure"), pull: u.joined(u.both(duty.pull, "force", 2)), thread: data.nozzles[one.id].thread
          }) })),
          one.id !== picks.nozzleId ? button("ws_use_it", function () { pickNozzle.list.value = one.id; pickNozzle.list.dispatchEvent(new Event("change")); }) :
          el("b", { text: w.ws_on_now })));
      });
      if (!kids.length) kids.push(el("p", { text: w.ws_none_in_stock }));
      var number = m.numberOfArea(area), beside = m.numbersBeside(number);
      kids.push(el("p", { text: u.said("ws_whole_number", { number: u.roundTo(number, 3), below: beside[0], above: beside[1], nozzle: pressure(m.pressureFor(rig.pump.flow, area, water.density)) }) }));
      var rear = rig.jets.filter(function (jet) { return jet.count && !jet.byNumber; });
      var open = m.sum(rear, function (jet) { return jet.count; }), total = m.totalArea(rig.jets);
      if (open && rear.length === rig.jets.length) {
        kids.push(el("p", { text: u.said("ws_drill_to", {
          jets: rear.map(function (jet) {
            return jet.count + " × " + u.joined(u.both(jet.bore * Math.sqrt(area / total), "small length", 3));
          }).join(", ")
        }) }));
      }
    } catch (error) { kids.push(el("p", { text: told(error) })); }
    suits.replaceChildren.apply(suits, kids);
  }

  // ---- all together
  var headline = el("p", { "class": "answer" }), cautions = el("div"), needed = el("div"), results = el("div");
  var working = el("ul"), walkBox = el("figure"), curveBox = el("figure"), pipeBox = el("figure");
  var spoken = el("p", { role: "status", "class": "hide" }), speakTimer = 0, addressTimer = 0;
  var strip = el("div", { "class": "ws-now", "aria-hidden": true }), cells = ["gauge", "nozzle", "flow"].map(function (name) {
    var cell = { name: name, first: el("b"), other: el("span") };
    strip.append(el("div", {}, el("small", { text: w["ws_short_" + name] }), cell.first, cell.other));
    return cell;
  });
  var FACTS = { gauge: "pressure", nozzle: "pressure", flow: "flow" };

  function update() {
    if (loading) return;
    var wrong = [], all = readAll(wrong), limits = pipeLimits(all), duty = null, margins, trouble = "";
    if (!wrong.length) {
      try {
        margins = m.margins(all.rig, k.widths, beside(all, limits));
        duty = m.replaced(m.workingPoint(all.rig), {});
        duty = m.replaced(duty, beside(all, limits)(all.rig, duty));
      } catch (error) { trouble = told(error); }
    }
    results.hidden = strip.hidden = !duty;
    needed.hidden = !wrong.length;
    if (wrong.length) showNeeded(wrong);
    setText(headline, duty ? sayState(all, duty) : trouble);
    cautions.hidden = !duty;
    if (duty) show(all, duty, margins, limits);
    keepAddress();
  }
  function showNeeded(wrong) {
    needed.replaceChildren(el("p", { text: w.ws_still_needed }), el("ul", { "class": "rows" }, wrong.slice(0, 12).map(function (field) {
      return el("li", {}, el("a", { href: "#" + field.id, text: field.label, click: function (event) {
        event.preventDefault();
        var input = document.getElementById(field.id), fold = input.closest("details");
        if (fold) fold.open = true;
        input.focus();
      } }));
    })));
  }
  function sayState(all, duty) {
    if (duty.state === "full flow") return w.ws_full_flow;
    return u.said("ws_regulated", { share: u.roundTo(duty.bypass / all.rig.pump.flow * 100, 2) + "%" });
  }
  function show(all, duty, margins, limits) {
    last = { all: all, duty: duty, margins: margins };
    ROWS.forEach(function (row) {
      fillLine(lines[row[0]], duty[row[0]], margins[row[0]], row[2], row[0] === "pull" ? undefined : 0, causeOf);
    });
    if (duty.farthest !== undefined && duty.far !== undefined) {
      setText(lines.far.first, u.both(duty.far, "length", 2)[0] + " – " + u.both(duty.farthest, "length", 2)[0]);
      setText(lines.far.other, "(" + u.both(duty.far, "length", 2)[1] + " – " + u.both(duty.farthest, "length", 2)[1] + ")");
      setText(lines.far.may, u.said("ws_may_be_only", {
        low: u.both(Math.max(duty.far - margins.far.lower, 0), "length", 2)[0], high: u.both(duty.farthest + margins.farthest.upper, "length", 2)[0]
      }) + " " + w.ws_reach_more);
    }
    if (duty.push !== undefined) setText(lines.push.may, lines.push.may.textContent + " " + w["ws_hold_" + m.hold(duty.push)]);
    cautions.replaceChildren.apply(cautions, inOrder(findCautions(all, duty, margins, limits), limits));
    showChips(all, duty, duty.setting);
    var then = showWhatIf(all, duty, limits);
    cells.forEach(function (cell) {
      var now = (then || duty)[cell.name], pair = u.both(now, FACTS[cell.name], digits(now, margins[cell.name])), by = then && then[cell.name] - duty[cell.name];
      setText(cell.first, pair[0]);
      setText(cell.other, then ? (by > 0 ? "+" : "") + u.both(by, FACTS[cell.name], 2)[0] : pair[1]);
    });
    strip.classList.toggle("ws-over", Boolean(limits.ceiling && (limits.barred || (limits.most && (then || duty).nozzle > limits.most))));
    later(all, duty, limits);
  }
  // Pictures and proposals follow once the answers stand.
  var laterTimer = 0;
  function later(all, duty, limits) {
    clearTimeout(laterTimer);
    laterTimer = setTimeout(function () {
      walkBox.replaceChildren(draw.walk(all.rig, duty, limits.most), el("figcaption", { text: w.ws_walk }));
      curveBox.replaceChildren(draw.curves(all.rig, duty), el("figcaption", { text: w.ws_curves }));
      pipeBox.hidden = duty.full === undefined;
      if (!pipeBox.hidden) {
        var running = duty.flow + (all.job.also || 0), part = duty.full ? null : m.partFull(running, all.job.pipe, all.job.fall, all.job.n);
        pipeBox.replaceChildren(draw.pipe(part, all.job.pipe), el("figcaption", { text: w.ws_part_full }));
      }
      showSuits(all, limits);
      showWorking(all, duty);
      setText(spoken, u.said("ws_spoken", {
        gauge: u.both(duty.gauge, "pressure", 3)[0], nozzle: u.both(duty.nozzle, "pressure", 3)[0], flow: u.both(duty.flow, "flow", 3)[0]
      }));
    }, 120);
  }
  function showWorking(all, duty) {
    var rig = all.rig, water = m.waterAt(rig.temperature), told = [u.said("ws_working_water", {
      density: water.density.toFixed(1), viscosity: (water.viscosity * 1e3).toFixed(3)
    })];
    rig.jets.forEach(function (jet) {
      told.push(u.said("ws_working_jet", { count: jet.count, way: w["faces_" + jet.faces], area: (jet.area * 1e6).toFixed(3) }));
    });
    rig.hoses.forEach(function (hose, i) {
      told.push(u.said("ws_working_hose", { number: i + 1, reynolds: u.roundTo(duty.reynolds[i], 3), lost: pressure(duty.segment_losses[i]) }));
    });
    told.push(u.said("ws_working_gauge", {
      lost: pressure(duty.hose_loss), nozzle: pressure(duty.nozzle), head: pressure(duty.nozzle + duty.hose_loss - duty.gauge), gauge: pressure(duty.gauge)
    }), u.said("ws_limit", { at: pressure(m.limitOf(rig.pump)) }), w.ws_working_pull, w.plate_rules);
    working.replaceChildren.apply(working, told.map(function (text) { return el("li", { text: text }); }));
  }
  function keepAddress() {
    clearTimeout(addressTimer);
    addressTimer = setTimeout(function () {
      var hash = s.encode(collect());
      mine = "#" + hash;
      try { history.replaceState(null, "", hash ? mine : location.pathname); } catch (e) { /* too often: the next change writes it */ }
    }, 250);
  }
  var mine = "";

  // ---- short sums
  var makers = {}, sumBoxes = data.form.sums.map(function (sum) {
    var fold = el("details", { id: "sum-" + sum.id, toggle: function () { if (fold.open) makers[sum.id](); } }, el("summary", { text: w[sum.word] }));
    makers[sum.id] = function () {
      if (openSums[sum.id]) return fold;
      var out = el("dl", { "class": "facts", role: "status" }), say = el("div"), group;
      function work() {
        var wrong = [], given = values(group, wrong), kids = [];
        say.replaceChildren();
        if (wrong.length) say.append(el("p", { text: u.said("ws_sum_needs", { fields: wrong.map(function (f) { return f.label; }).join(", ") }) }));
        else {
          try {
            var found = sums.answer(sum.id, given, sum.fields);
            found.rows.forEach(function (row) {
              if (found.values[row[0]] === undefined) return;
              var one = line(row[1]);
              fillLine(one, found.values[row[0]], found.margins[row[0]], row[2], undefined, function (cause) { return cause === "cv" ? w.ws_cause_velocity_coefficient : (w[cause] || "").toLowerCase(); });
              one.box.setAttribute("data-row", row[0]);
              kids.push(one.box);
            });
            found.say.forEach(function (word) { say.append(el("p", { text: w[word] })); });
          } catch (error) { say.append(el("p", { text: told(error) })); }
        }
        out.replaceChildren.apply(out, kids);
        if (!loading) keepAddress();
      }
      group = makeGroup(sum.fields, "sum-" + sum.id, work);
      openSums[sum.id] = { group: group, work: work };
      fold.append(el("div", { "class": "ws-fields" }, boxes(group)), out, say);
      work();
      return fold;
    };
    return fold;
  });

  // ---- keep and send
  var yaml = el("textarea", { id: "ws-yaml", rows: 12, spellcheck: "false", "aria-describedby": "ws-yaml-say" });
  var yamlSay = el("p", { id: "ws-yaml-say", role: "status" });
  function takeYaml(text) {
    try {
      load(s.fromYaml(text));
      yamlSay.textContent = w.ws_yaml_read;
    } catch (error) { yamlSay.textContent = told(error); }
  }
  function toast(word) {
    var told = document.getElementById("told");
    if (told) { told.textContent = w[word]; setTimeout(function () { told.textContent = ""; }, 2500); }
  }
  var keep = [
    button("ws_copy_address", function () {
      var hash = "#" + s.encode(collect()), address = location.href.split("#")[0] + hash;
      if (!navigator.clipboard) { toast("copy_failed"); return; }
      navigator.clipboard.writeText(address).then(function () { toast("copied"); }, function () { toast("copy_failed"); });
    }),
    button("ws_show_yaml", function () { yaml.value = s.toYaml(collect()); yamlSay.textContent = w.ws_yaml_shown; yaml.focus(); }),
    button("ws_save_yaml", function () {
      var text = s.toYaml(collect()), link = el("a", { href: URL.createObjectURL(new Blob([text], { type: "text/yaml" })), download: "setup.yml" });
      yaml.value = text;
      link.click();
      setTimeout(function () { URL.revokeObjectURL(link.href); }, 1000);
    }),
    el("label", { "for": "ws-yaml", text: w.ws_yaml_label }), yaml,
    button("ws_read_yaml", function () { takeYaml(yaml.value); }),
    el("label", { "class": "ws-file" }, w.ws_open_file, el("input", { type: "file", accept: ".yml,.yaml,text/yaml", change: function (event) {
      var file = event.target.files[0], reader = new FileReader();
      if (!file) return;
      reader.onload = function () { yaml.value = String(reader.result).slice(0, 20000); takeYaml(yaml.value); };
      reader.readAsText(file.slice(0, 20000));
    } })),
    yamlSay
  ];

  // ---- the page laid out
  ["pump", "nozzle", "job"].forEach(function (name) { groups[name] = makeGroup(form[name], name, update); });
  function fold(word, kids) { return el("details", {}, el("summary", { text: w[word] }), kids); }
  function fields(group) { return el("div", { "class": "ws-fields" }, boxes(group)); }
  var addressSay = el("ul", { "class": "ws-told" });
  place.append(strip, spoken, addressSay,
    el("section", { "class": "ws-picks" }, pickMachine.box, pickNozzle.box, pickMaterial.box, pickCondition.box),
    el("section", { id: "answers" }, headline, cautions, needed, el("div", {}, facts)),
    el("section", {}, heading("ws_own_numbers"),
      fold("ws_part_pump", fields(groups.pump)), fold("ws_part_hoses", [holders.hose, adders.hose]),
      fold("ws_part_nozzle", [holders.jet, adders.jet, fields(groups.nozzle)]), fold("ws_part_job", fields(groups.job))),
    results, el("section", {}, heading("ws_keep"), keep),
    el("section", { id: "sums" }, heading("ws_sums"), sumBoxes));
  results.append(
    el("section", {}, heading("ws_pictures"), walkBox, curveBox, pipeBox),
    el("section", { id: "what-if" }, heading("ws_what_if"), whatSay, el("div", { "class": "box" }, whatTable), chipBox),
    el("section", {}, heading("ws_suits"), suits),
    el("section", {}, fold("ws_working", working)));
  facts.parentNode.hidden = false;

  function fromAddress() {
    var told = [], state;
    if (location.hash === mine) return;
    mine = location.hash;
    state = s.decode(location.hash, told);
    if (!location.hash) startFromMine(state);
    addressSay.replaceChildren.apply(addressSay, told.map(function (one) {
      return el("li", { text: u.said(one[0], { value: one[1] }) });
    }));
    load(state);
  }
  // Without an address: the machine chosen on this phone, and the first nozzle that goes with it.
  function startFromMine(state) {
    try {
      var kept = JSON.parse(localStorage.getItem("refgen:machine") || "null");
      if (kept && own(data.machines, kept.id)) {
        var carried = s.fillMachine(state, kept.id);
        if (carried.nozzles) s.fillNozzle(state, carried.nozzles[0]);
      }
    } catch (e) { /* nothing is remembered */ }
  }
  window.addEventListener("hashchange", fromAddress);
  mine = null;
  fromAddress();
  place.hidden = false;
  sheet.model.made = m;
})(window.refgenSheet = window.refgenSheet || {});
