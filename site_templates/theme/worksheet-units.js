// Quantities as people write them, read and shown as refgen/units.py does: SI inside, rounding only
// here. The units come from the Python side; each belongs to one dimension.
const UNITS = data.units.map(([symbol, dimension, factor, offset, also, word, twin]) => ({
  symbol: symbol,
  dimension: dimension,
  factor: factor,
  offset: offset,
  twin: twin,
  word: word,
  names: [symbol, ...also]
}));
const BY_SYMBOL = new Map(UNITS.map(unit => [unit.symbol, unit]));
const NUMBER = /^([-−+]?)\s*(?:(?:(\d+)[ -])?(\d+)\/(\d+)|(\d+(?:\.\d+)?|\.\d+))\s*([^\d\s.].*)?$/;
const VULGAR = {
  "½": "1/2",
  "¼": "1/4",
  "¾": "3/4",
  "⅛": "1/8",
  "⅜": "3/8",
  "⅝": "5/8",
  "⅞": "7/8"
};

const BY_DIMENSION = new Map();
for (const unit of UNITS) {
  BY_DIMENSION.set(unit.dimension, [...unitsOf(unit.dimension), unit]);
}
function unitsOf(dimension) {
  return BY_DIMENSION.get(dimension) || [];
}
// Within one dimension no two units differ by capitals alone, so these need not be right.
function unitNamed(dimension, name) {
  const low = name.toLowerCase();
  return unitsOf(dimension).find(unit => unit.names.some(other => other.toLowerCase() === low));
}
function say(word, values = {}) {
  return w[word].replace(/\{(\w+)\}/g, (whole, name) => values[name] ?? whole);
}
// Reads a text; a bare number takes `unit`. Gives {si, number, unit}; refuses what is no number,
// has no unit of the field's dimension, or, unless `free`, lies outside the field's range.
function parse(text, field, unit, free) {
  let plain = text.trim();
  for (const sign in VULGAR)
    plain = plain
      .split(sign)
      .join(" " + VULGAR[sign])
      .trim();
  const match = text.length <= 60 && NUMBER.exec(plain),
    units = unitsOf(field.of);
  if (!match) refuse(/\d,\d/.test(plain) ? "ws_say_comma" : "ws_say_number");
  const [, sign, whole, top, bottom, decimal, written = ""] = match;
  if (written) {
    unit = unitNamed(field.of, written);
    if (!unit) {
      refuse(/^,\d/.test(written) ? "ws_say_comma" : units[0] ? "ws_say_unit" : "ws_say_bare", {
        name: written.slice(0, 20),
        names: units
          .slice(0, 4)
          .map(other => other.symbol)
          .join(", ")
      });
    }
  }
  if (bottom && !+bottom) refuse("ws_say_zero");
  let si = top ? ((whole || 0) * bottom + +top) / bottom : +decimal;
  if (sign && sign !== "+") si = -si;
  if (unit) si = (si + unit.offset) * unit.factor;
  if (!free) {
    // A limit that was itself worked out from a unit may be passed by the last bits only.
    const low = field.low || 0,
      high = field.high ?? Infinity,
      slack = 1e-12 * abs(si);
    if (field.of === "count" && si % 1) refuse("ws_say_count");
    if (si < low - slack || si > high + slack || (field.above && si <= 0)) {
      refuse(high === Infinity ? "ws_say_more" : "ws_say_range", {
        low: inUnit(low, unit),
        high: inUnit(high, unit)
      });
    }
    si = min(max(si, low), high);
  }
  return { si: si, unit: unit, number: plain.slice(0, plain.length - written.length).trim() };
}
function inUnit(si, unit) {
  return unit ? +(si / unit.factor - unit.offset).toPrecision(4) + " " + unit.symbol : si;
}
// The SI value of a text from the Python side, or undefined where there is none.
function siOf(text, dimension) {
  return text && parse(text, { of: dimension }, null, true).si;
}

function roundTo(value, digits) {
  const rounded = Number(value.toPrecision(digits));
  const places = digits - 1 - Math.floor(Math.log10(abs(rounded) || 1) + 1e-12);
  return rounded.toFixed(rounded % 1 ? min(max(places, 0), 12) : 0);
}
function show(si, unit, digits) {
  const value = si / unit.factor - unit.offset;
  const number =
    unit.dimension === "temperature" ? String(Math.round(value)) : roundTo(value, digits);
  const [whole, rest] = number.replace("-", "−").split(".");
  return (
    whole.replace(/\B(?=(\d{3})+$)/g, ",") +
    (rest ? "." + rest : "") +
    (/^[%°]$/.test(unit.symbol) ? "" : "\u00a0") +
    unit.symbol
  );
}
// A value in the system that comes first and in the other; a time in the unit a person would say.
function both(si, what, digits = 3) {
  if (what === "number") return [roundTo(si, digits), ""];
  if (what === "time") {
    const unit = si < 90 ? "s" : si < 5400 ? "min" : si < 172800 ? "h" : "days";
    return [show(si, BY_SYMBOL.get(unit), digits), ""];
  }
  const [first, other] = [0, 1].map(i => BY_SYMBOL.get(data.pairs[what][i ^ data.first]));
  return [show(si, first, digits), first === other ? "" : show(si, other, digits)];
}
function inBoth(si, what) {
  const [first, other] = both(si, what);
  return other ? first + " (" + other + ")" : first;
}
// How far a value can be off, in words.
function mayBe(value, margin, what, cause) {
  if (!margin.lower && !margin.upper) return w.ws_exact;
  const least = value - margin.lower,
    low = what === "force" ? least : max(least, min(value, 0));
  return say(cause ? "ws_may_be" : "ws_may_be_only", {
    low: both(low, what)[0],
    high: both(value + margin.upper, what)[0],
    cause: cause && cause.toLowerCase()
  });
}
