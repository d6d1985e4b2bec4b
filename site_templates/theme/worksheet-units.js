// Quantities as people write them, read and shown as `refgen/units.py` does: SI inside, rounding
// only here. Units come from the Python side.
(function (sheet) {
  "use strict";
  sheet.units = function (data, refuse) {
    var w = data.words, byName = Object.create(null), byDimension = Object.create(null);
    var NUMBER =
      /^([-−+]?)\s*(?:(?:(\d+)[ -])?(\d+)\/(\d+)|(\d+(?:\.\d+)?|\.\d+))\s*([^\d\s.].*)?$/;
    var VULGAR = {
      "½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"
    };
    data.units.forEach(function (u) {
      var unit = {
        symbol: u[0], dimension: u[1], factor: u[2], offset: u[3], twin: u[6],
        word: w[u[5]] || u[0],
        // How it is written in an address: plain letters where there is such a name.
        plain: [u[0]].concat(u[4]).filter(function (n) { return /^[\w\/-]+$/.test(n); })[0] || u[0]
      };
      [u[0]].concat(u[4]).forEach(function (name) {
        byName[unit.dimension + " " + name] = unit;
        var low = unit.dimension + " " + name.toLowerCase();
        if (!byName[low]) byName[low] = unit;
      });
      (byDimension[unit.dimension] = byDimension[unit.dimension] || []).push(unit);
    });

    function named(dimension, name) {
      return byName[dimension + " " + name] || byName[dimension + " " + name.toLowerCase()] || null;
    }
    function said(word, values) {
      return w[word].replace(/\{(\w+)\}/g, function (whole, name) {
        return values && name in values ? values[name] : whole;
      });
    }
    // Reads a text; a bare number takes `unit`. Gives {si, number, unit} or refuses with a word.
    function parse(text, field, unit) {
      var plain = text.trim(), dimension = field.of, si, found;
      Object.keys(VULGAR).forEach(function (sign) {
        plain = plain.split(sign).join(" " + VULGAR[sign]).trim();
      });
      var match = text.length <= 60 && NUMBER.exec(plain);
      if (!match) refuse(/\d,\d/.test(plain) ? "ws_say_comma" : "ws_say_number");
      var name = (match[6] || "").trim();
      if (name) {
        found = named(dimension, name);
        if (!found && /^,\d/.test(name)) refuse("ws_say_comma");
        if (!found) refuse(byDimension[dimension] ? "ws_say_unit" : "ws_say_bare", name.slice(0, 20));
        unit = found;
      }
      if (match[4] && !+match[4]) refuse("ws_say_zero");
      si = match[3] ? (+(match[2] || 0) * match[4] + +match[3]) / match[4] : +match[5];
      if (match[1] && match[1] !== "+") si = -si;
      if (unit) si = (si + unit.offset) * unit.factor;
      if (field.of === "count" && si !== Math.floor(si)) refuse("ws_say_count");
      // A limit that was itself worked out from a unit may be passed by the last bit only.
      var low = field.low || 0, high = field.high === undefined ? Infinity : field.high;
      var slack = 1e-12 * Math.abs(si);
      if (si < low - slack || si > high + slack || (field.above && si <= 0)) {
        refuse(high === Infinity ? "ws_say_more" : "ws_say_range", {
          low: inUnit(low, unit), high: inUnit(high, unit)
        });
      }
      si = Math.min(Math.max(si, low), high);
      return { si: si, number: plain.slice(0, plain.length - (match[6] || "").length).trim(), unit: unit };
    }
    // A field without its limits: what lies outside is still kept, and told of.
    function free(field) { return { of: field.of, low: -Infinity }; }
    function inUnit(si, unit) { return unit ? show(si, unit, 4) : roundTo(si, 4); }

    function roundTo(value, digits) {
      if (value === 0) return "0";
      var rounded = Number(value.toPrecision(digits));
      var places = digits - 1 - Math.floor(Math.log10(Math.abs(rounded)) + 1e-12);
      if (places <= 0 || rounded === Math.round(rounded)) return rounded.toFixed(0);
      return rounded.toFixed(Math.min(places, 12));
    }
    function show(si, unit, digits) {
      var value = si / unit.factor - unit.offset;
      var number = unit.dimension === "temperature" ?
        value.toFixed(0).replace(/^-0$/, "0") : roundTo(value, digits);
      var parts = number.replace("-", "−").split(".");
      parts[0] = parts[0].replace(/\B(?=(\d{3})+(?!\d))/g, ",");
      return parts.join(".") + (/^[%°]$/.test(unit.symbol) ? "" : "\u00a0") + unit.symbol;
    }
    var TIMES = ["s", "min", "h", "days"];
    // Both ways, the system that comes first in front; a time in the unit a person would say.
    function both(si, what, digits) {
      if (what === "time") {
        var unit = named("time", TIMES[si < 90 ? 0 : si < 5400 ? 1 : si < 172800 ? 2 : 3]);
        return [show(si, unit, digits), ""];
      }
      if (what === "number") return [roundTo(si, digits), ""];
      var pair = data.pairs[what].map(function (symbol) { return unitOf[symbol]; });
      if (data.first) pair.reverse();
      return [show(si, pair[0], digits), pair[0] === pair[1] ? "" : show(si, pair[1], digits)];
    }
    var unitOf = Object.create(null);
    Object.keys(byDimension).forEach(function (dimension) {
      byDimension[dimension].forEach(function (unit) { unitOf[unit.symbol] = unit; });
    });
    function joined(pair) { return pair[1] ? pair[0] + " (" + pair[1] + ")" : pair[0]; }

    return {
      parse: parse, named: named, said: said, show: show, roundTo: roundTo, both: both,
      joined: joined, of: function (dimension) { return byDimension[dimension] || []; },
      unitOf: unitOf, free: free
    };
  };
})(window.refgenSheet = window.refgenSheet || {});
