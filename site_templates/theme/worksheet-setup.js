// A setup as the form holds it (texts, as typed), as an address, and as the YAML that the command
// line solves. Whatever comes from outside is cut to a size, and only known names are looked at.
const FORM = data.form.setup,
  MOST_ROWS = 6,
  LONGEST = 60;
const IDS = ["machine", "nozzle", "material"],
  GROUPS = ["pump", "nozzle", "job"];
const IFS = ["bore", "length", "rear", "front", "worn", "pulse", "throttle", "up", "unloader"];
const YAML_NAMES = {
  reel: "reel_diameter",
  onReel: "on_reel",
  cd: "discharge_coefficient",
  cv: "velocity_coefficient"
};
const YAML_PUMP = ["flow", "pressure", "unloader"],
  YAML_NOZZLE = ["cd", "cv"];
const YAML_HOSE = ["bore", "length", "roughness", "onReel", "reel"];
const YAML_JET = ["count", "bore", "number", "angle", "faces"];

// A record of the fleet by an id from outside; refuses one that is not there.
function known(map, id) {
  if (!Object.hasOwn(map, id)) refuse("ws_no_such", { value: id });
  return map[id];
}
function blank(fields, from = {}) {
  return Object.fromEntries(fields.map(field => [field.id, from[field.id] ?? field.is]));
}
function emptySetup() {
  const setup = { ids: {}, hoses: [blank(FORM.hose)], jets: [blank(FORM.jet)], if: {}, sums: {} };
  for (const group of GROUPS) setup[group] = blank(FORM[group]);
  return setup;
}

// ---- what the fleet fills in
function stockHose(id, more) {
  return { ...blank(FORM.hose, { ...known(data.hoses, id), ...more }), id: id };
}
const FILL = {
  machine: (setup, id) => {
    const [name, reel] = id.split("/"),
      machine = known(data.machines, name);
    const carried = machine.hoses.find(hose => hose.id === reel) || machine.hoses[0];
    setup.ids.machine = name + "/" + carried.id;
    setup.pump = blank(FORM.pump, machine);
    setup.hoses = [stockHose(carried.hose, carried)];
    return carried.nozzles || [];
  },
  nozzle: (setup, id) => {
    // On a machine whose gauge was read, its jets as they pass water there.
    const nozzle = { ...known(data.nozzles, id), ...data.own[setup.ids.machine + "/" + id] };
    setup.ids.nozzle = id;
    setup.nozzle = blank(FORM.nozzle, nozzle);
    setup.jets = nozzle.jets.map(jet => blank(FORM.jet, jet));
  },
  material: (setup, id) => {
    const [name, condition] = id.split("/"),
      material = known(data.materials, name);
    const conditions = Object.keys(material.ceilings);
    setup.ids.material = name + "/" + (conditions.includes(condition) ? condition : conditions[0]);
    setup.job.n = material.n || setup.job.n;
  }
};

// ---- the address
function packed(text, field) {
  let short = text;
  if (text && field.of !== "choice") {
    attempt(() => {
      const read = parse(text, field, null, true),
        names = read.unit ? read.unit.names : [""];
      short =
        read.number.replace(" ", "-") +
        (names.find(name => /^[\w/]*$/.test(name)) ?? names[0]).replace(/ /g, "");
    });
  }
  return encodeURIComponent(short).replace(/%2F/g, "/");
}
// Cells that stand at the end as every field starts are left out.
function packedRow(row, fields) {
  let end = fields.length;
  while (end > 1 && row[fields[end - 1].id] === fields[end - 1].is) end -= 1;
  return fields
    .slice(0, end)
    .map(field => packed(row[field.id], field))
    .join(",");
}
function encode(setup) {
  const parts = [],
    base = emptySetup();
  const put = (name, value) => parts.push(name + "=" + value);
  const putRows = (name, now, start) => {
    const written = rows =>
      rows.map(row => packedRow(row, FORM[name]) + (row.id ? ";" + row.id : ""));
    if (written(now).join() === written(start).join()) return;
    (now.length ? written(now) : ["none"]).forEach(row => put(name, row));
  };
  for (const kind of IDS) {
    const id = setup.ids[kind] || "";
    if (id) FILL[kind](base, id);
    // A machine brings a nozzle unless the address says that there is none.
    if (id || (kind === "nozzle" && setup.ids.machine)) put(kind, id);
  }
  for (const group of GROUPS) {
    for (const field of FORM[group]) {
      const text = setup[group][field.id];
      if (text !== base[group][field.id]) put(field.id, packed(text, field));
    }
  }
  putRows("hose", setup.hoses, base.hoses);
  putRows("jet", setup.jets, base.jets);
  for (const name of IFS) if (setup.if[name]) put("if-" + name, encodeURIComponent(setup.if[name]));
  for (const one of data.form.sums) {
    if (setup.sums[one.id]) put("sum-" + one.id, packedRow(setup.sums[one.id], one.fields));
  }
  return parts.join("&");
}
function plainText(text) {
  let plain = text;
  try {
    plain = decodeURIComponent(text);
  } catch (error) {
    /* taken as it stands */
  }
  return plain.slice(0, LONGEST);
}
function unpackedRow(text, fields) {
  const cells = text.split(",");
  return Object.fromEntries(
    fields.map((field, i) => [field.id, plainText(cells[i] ?? field.is)])
  );
}
// Reads an address; `told` collects the sentences on what could not be taken.
function decode(hash, told) {
  const setup = emptySetup(),
    named = new Set();
  let carried = [];
  const pairs = hash
    .slice(1, 4000)
    .split("&")
    .slice(0, 80)
    .map(part => {
      const at = part.indexOf("=");
      return at < 0 ? ["", ""] : [part.slice(0, at), part.slice(at + 1)];
    });
  // The fleet first: what is written out beside it goes before it.
  for (const [name, value] of pairs) {
    if (IDS.includes(name) && value) {
      try {
        carried = FILL[name](setup, plainText(value)) || carried;
      } catch (error) {
        told.push(sayRefusal(error));
      }
    }
  }
  if (carried[0] && !pairs.some(([name]) => name === "nozzle" || name === "jet"))
    FILL.nozzle(setup, carried[0]);
  for (const [name, value] of pairs) {
    const group = GROUPS.find(one => FORM[one].some(field => field.id === name));
    const one = data.form.sums.find(sum => "sum-" + sum.id === name);
    if (name === "hose" || name === "jet") {
      const [cells, id] = value.split(";"),
        row = unpackedRow(cells, FORM[name]),
        list = name + "s";
      if (!named.has(name)) setup[list] = [];
      named.add(name);
      if (name === "hose" && Object.hasOwn(data.hoses, id)) row.id = id;
      if (value !== "none" && setup[list].length < MOST_ROWS) setup[list].push(row);
    } else if (group && !IDS.includes(name)) {
      setup[group][name] = plainText(value);
    } else if (one) {
      setup.sums[one.id] = unpackedRow(value, one.fields);
    } else if (IFS.includes(name.slice(3)) && name.startsWith("if-")) {
      setup.if[name.slice(3)] = plainText(value);
    }
  }
  return setup;
}

// ---- YAML
function toYaml(setup) {
  const lines = [],
    named = (row, names) =>
      names
        .filter(name => row[name])
        .map(
          name =>
            (YAML_NAMES[name] || name) +
            ": " +
            row[name].replace(/−/g, "-").replace(/[^\w .\/%°³-]/g, "")
        );
  const put = (head, indent, items) => lines.push(head, ...items.map(item => indent + item));
  const rows = (list, names, indent) =>
    list.map(row => "- " + named(row, names).join("\n" + indent + "  "));
  put("water:", "  ", named({ temperature: setup.job.water }, ["temperature"]));
  put("pump:", "  ", named(setup.pump, YAML_PUMP));
  put(setup.hoses.length ? "hoses:" : "hoses: []", "  ", rows(setup.hoses, YAML_HOSE, "  "));
  put("nozzle:", "  ", named(setup.nozzle, YAML_NOZZLE));
  put("  jets:", "    ", rows(setup.jets, YAML_JET, "    "));
  put("", "", named({ nozzle_below_pump: setup.job.below }, ["nozzle_below_pump"]));
  return lines.join("\n") + "\n";
}
// Reads the plain part of YAML that a setup needs: maps and lists, by their indent.
function readYaml(text) {
  const lines = [];
  const bad = line => refuse("ws_yaml_bad", { value: line.slice(0, LONGEST) });
  for (const line of text.slice(0, 20000).split(/\r?\n/)) {
    const bare = line.replace(/(^|\s)#.*$/, "").trimEnd();
    if (bare && bare !== "---") lines.push([bare.search(/\S/), bare.trim()]);
  }
  const scalar = word => (word === "[]" ? [] : word.replace(/^(["'])(.*)\1$/, "$2"));
  const isRow = line => /^-( |$)/.test(line);
  const block = (indent, depth) => {
    const list = isRow(lines[0][1]),
      found = list ? [] : new Map();
    while (lines.length && lines[0][0] === indent && isRow(lines[0][1]) === list) {
      const line = lines[0][1];
      if (depth > 6) bad(line);
      if (list) {
        const rest = line.slice(1).trim();
        if (rest) lines[0] = [indent + line.length - rest.length, rest];
        else lines.shift();
        found.push(lines.length ? block(lines[0][0], depth + 1) : bad(line));
        continue;
      }
      const match = /^(\w+)\s*:(?:\s+(.*))?$/.exec(line) || bad(line);
      lines.shift();
      const under =
        lines.length &&
        !match[2] &&
        (lines[0][0] > indent || (lines[0][0] === indent && isRow(lines[0][1])));
      found.set(match[1], under ? block(lines[0][0], depth + 1) : scalar(match[2] || ""));
    }
    return found;
  };
  const whole = lines.length ? block(lines[0][0], 0) : bad("");
  if (lines.length || !(whole instanceof Map)) bad(lines.length ? lines[0][1] : "");
  return whole;
}
function fromYaml(text) {
  const whole = readYaml(text),
    setup = emptySetup();
  const take = (map, names, target, more = []) => {
    if (!(map instanceof Map)) refuse("ws_yaml_bad", { value: String(map).slice(0, LONGEST) });
    for (const [name, value] of map) {
      const id = names.find(one => (YAML_NAMES[one] || one) === name);
      if (id) target[id] = plainText(String(value));
      else if (!more.includes(name)) refuse("ws_yaml_unknown", { value: name.slice(0, LONGEST) });
    }
    return target;
  };
  const each = (list, make) =>
    Array.isArray(list)
      ? list.slice(0, MOST_ROWS).map(make)
      : refuse("ws_yaml_bad", { value: String(list).slice(0, LONGEST) });
  take(whole, [], {}, ["water", "machine", "pump", "hoses", "nozzle", "nozzle_below_pump"]);
  const nozzle = whole.get("nozzle");
  if (whole.has("machine")) FILL.machine(setup, String(whole.get("machine")));
  if (whole.has("pump")) take(whole.get("pump"), YAML_PUMP, setup.pump);
  if (whole.has("hoses")) {
    setup.hoses = each(whole.get("hoses"), row => {
      const start = row.get && row.get("hose") ? stockHose(row.get("hose"), {}) : blank(FORM.hose);
      return take(row, YAML_HOSE, start, ["hose"]);
    });
  }
  if (typeof nozzle === "string") FILL.nozzle(setup, nozzle);
  else if (nozzle) {
    take(nozzle, YAML_NOZZLE, setup.nozzle, ["jets"]);
    setup.jets = each(nozzle.get("jets"), row => take(row, YAML_JET, blank(FORM.jet)));
  }
  if (whole.get("water"))
    setup.job.water = take(whole.get("water"), ["temperature"], {}).temperature;
  if (whole.has("nozzle_below_pump"))
    setup.job.below = plainText(String(whole.get("nozzle_below_pump")));
  return setup;
}
