// The worksheet's page: a setup goes into the form, the form into answers, address and file.
// ---- the form as a setup, and a setup into the form
function collect() {
  const setup = { ids: ids, if: ifs, sums: {} };
  for (const group of GROUPS) setup[group] = texts(groups[group]);
  setup.hoses = rows.hose.map(row => ({ ...texts(row.fields), id: row.id }));
  setup.jets = rows.jet.map(row => texts(row.fields));
  for (const fold of all("[data-sum][open]"))
    setup.sums[fold.dataset.sum] = texts(openSum(fold.dataset.sum));
  return setup;
}
function load(setup) {
  loading = true;
  ids = setup.ids;
  ifs = setup.if;
  for (const group of GROUPS) fill(groups[group], setup[group]);
  for (const [kind, starts] of [
    ["hose", setup.hoses],
    ["jet", setup.jets]
  ]) {
    rows[kind].forEach(row => row.box.remove());
    rows[kind] = [];
    starts.forEach(start => addRow(kind, start));
    numberRows(kind);
  }
  for (const fold of all("[data-sum]")) {
    const id = fold.dataset.sum,
      from = setup.sums[id];
    fold.open = Boolean(from);
    if (from) {
      fill(openSum(id), from);
      workSum(id);
    }
  }
  for (const kind of IDS) the("#ws-pick-" + kind).value = ids[kind] || "";
  loading = false;
  update();
}
function pick(kind, id) {
  const setup = collect();
  setup.ids = { ...ids, [kind]: "" };
  if (kind !== "material") setup.if = {};
  // A machine brings a nozzle: the one that is there if it goes on its hose, else its first.
  const carried = id && FILL[kind](setup, id);
  if (carried && carried[0])
    FILL.nozzle(setup, carried.includes(ids.nozzle) ? ids.nozzle : carried[0]);
  load(setup);
}

// ---- all together
function update() {
  if (loading) return;
  const wrong = [],
    rig = readRig(wrong),
    headline = the("#_answers p");
  let duty = null,
    line = "";
  readLimits();
  job.hose = sum(rig.hoses, hose => hose.length);
  if (!wrong.length) {
    try {
      duty = solve(rig);
      duty = { ...duty, ...beside(rig, duty) };
      line = duty.full ? w.ws_full_flow : regulated(duty, rig.pump.flow);
    } catch (error) {
      line = sayRefusal(error);
    }
  }
  for (const box of all(".ws-result")) box.hidden = !duty;
  setText(headline, wrong.length ? w.ws_still_needed : line);
  the(".ws-needed").replaceChildren(
    ...wrong.slice(0, 12).map(field =>
      el(
        "li",
        {},
        el(
          "a",
          {
            href: "#" + field.input.id,
            click: event => {
              const fold = field.input.closest("details");
              event.preventDefault();
              fold.open = true;
              field.input.focus();
            }
          },
          field.title
        )
      )
    )
  );
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
  const then = showWhatIf(rig, duty),
    now = then || duty;
  for (const cell of all("[data-now]")) {
    const id = cell.dataset.now,
      what = KINDS[id],
      by = now[id] - duty[id];
    const [first, other] = both(now[id], what);
    setText(cell.children[1], first);
    setText(cell.children[2], then ? signed(by, what) : other);
  }
  the(".ws-now").classList.toggle(
    "ws-over",
    now.nozzle > limits.most || Boolean(limits.ceiling && limits.ceiling.jet)
  );
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
    setText(
      the(".ws-spoken"),
      all("[data-now]")
        .map(cell => the("small", cell).textContent + " " + the("b", cell).textContent)
        .join(", ")
    );
  }, 150);
}
function keepAddress() {
  clearTimeout(addressTimer);
  addressTimer = setTimeout(() => {
    try {
      history.replaceState(null, "", "#" + encode(collect()));
    } catch (error) {
      /* asked too often: the next change writes it */
    }
  }, 250);
}
function fromAddress() {
  let address = location.hash;
  const told = [];
  try {
    // Without an address: the machine chosen on this phone.
    address = address || "#machine=" + JSON.parse(localStorage.getItem("refgen:machine")).id;
  } catch (error) {
    /* nothing is remembered */
  }
  const setup = decode(address, told);
  the(".ws-told").replaceChildren(...told.map(text => el("p", {}, text)));
  load(setup);
}

// ---- short sums
function fieldsOf(id) {
  return data.form.sums.find(sum => sum.id === id).fields;
}
function openSum(id) {
  return (bound[id] ??= bindAll(the("#sum-" + id), fieldsOf(id), "sum-" + id, () => {
    workSum(id);
    keepAddress();
  }));
}
function workSum(id) {
  const box = the("#sum-" + id),
    wrong = [],
    given = valuesOf(openSum(id), wrong);
  let found = { values: {}, margins: {}, say: "" },
    line = "";
  try {
    if (wrong.length)
      refuse("ws_sum_needs", { fields: wrong.map(field => field.title).join(", ") });
    found = sumUp(id, given, fieldsOf(id));
    line = found.say && w[found.say];
  } catch (error) {
    line = sayRefusal(error);
  }
  setText(the(".ws-line", box), line);
  for (const row of all("[data-v]", box))
    showRow(row, found.values[row.dataset.v], found.margins[row.dataset.v]);
}

// ---- keep and send
function takeYaml(text) {
  const note = the("#ws-yaml-note");
  try {
    load(fromYaml(text));
    setText(note, w.ws_yaml_read);
  } catch (error) {
    setText(note, sayRefusal(error));
  }
}
const ACTS = {
  copy: () => {
    // Where nothing may be copied, the address stands there to be copied by hand.
    const address = location.href.split("#")[0] + "#" + encode(collect());
    the("#ws-yaml").value = address;
    navigator.clipboard?.writeText(address).then(() => setText(the("#ws-yaml-note"), w.copied));
  },
  save: () => {
    const text = toYaml(collect()),
      link = el("a", { download: "setup.yml" });
    the("#ws-yaml").value = text;
    link.href = URL.createObjectURL(new Blob([text], { type: "text/yaml" }));
    link.click();
  },
  read: () => takeYaml(the("#ws-yaml").value)
};

for (const group of GROUPS)
  groups[group] = bindAll(the("[data-g=" + group + "]"), FORM[group], group, update);
for (const kind of IDS)
  the("#ws-pick-" + kind).onchange = event => pick(kind, event.target.value);
for (const button of all("[data-add]"))
  button.onclick = () => {
    const row = addRow(button.dataset.add, blank(FORM[button.dataset.add]));
    row.fields[0].input.focus();
    update();
  };
for (const chip of all("[data-if]"))
  chip.onclick = () => {
    ifs = { ...ifs, [chip.dataset.if]: chip.value };
    update();
  };
for (const fold of all("[data-sum]"))
  fold.ontoggle = () => {
    if (fold.open) workSum(fold.dataset.sum);
    keepAddress();
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
// An address without a setup leads to a place on the page.
addEventListener("hashchange", () => {
  if (/=/.test(location.hash)) fromAddress();
});
fromAddress();
place.removeAttribute("inert");
// For those who check that both languages say the same.
data.model = {
  solve: solve,
  workingPoint: workingPoint,
  causes: k.causes,
  partFull: partFull,
  grain: largestGrainMoved,
  parse: parse,
  encode: encode,
  decode: decode
};
