// A setup as the form holds it (texts, as typed), as an address, and as the YAML that the command
// line solves. Whatever comes from outside is cut to a size, and only known names are looked at.
(function (sheet) {
  "use strict";
  sheet.setup = function (data, u, refuse) {
    var MOST = 6, LONGEST = 60, form = data.form.setup;
    var WHAT = ["bore", "length", "plugged", "worn", "pulse", "throttle", "up", "unloader"];
    function own(map, name) {
      return map && Object.prototype.hasOwnProperty.call(map, name) ? map[name] : undefined;
    }
    function blank(group) {
      var found = {};
      form[group].forEach(function (field) { found[field.id] = field.is || ""; });
      return found;
    }
    function empty() {
      return {
        machine: "", carried: "", nozzleId: "", material: "", condition: "unknown",
        pump: blank("pump"), hoses: [blank("hose")], nozzle: blank("nozzle"), jets: [blank("jet")],
        job: blank("job"), what: {}, sums: {}
      };
    }

    // ---- what the fleet fills in
    function fill(target, from, names) {
      names.forEach(function (name) {
        if (own(from, name) !== undefined) target[name] = from[name];
      });
      return target;
    }
    function stockHose(id) {
      var hose = own(data.hoses, id), row = blank("hose");
      if (!hose) refuse("ws_no_such", id);
      row.id = id;
      return fill(row, hose, ["bore", "roughness", "weight"]);
    }
    function fillMachine(state, id, carriedId) {
      var machine = own(data.machines, id), pump = blank("pump");
      if (!machine) refuse("ws_no_such", id);
      var carried = machine.hoses.filter(function (hose) { return hose.id === carriedId; })[0] ||
        machine.hoses[0];
      state.machine = id;
      state.carried = carried.id;
      state.pump = fill(pump, machine, Object.keys(pump));
      state.hoses = [fill(stockHose(carried.hose), carried, ["length", "onReel", "reel"])];
      return carried;
    }
    function fillNozzle(state, id) {
      var nozzle = own(data.nozzles, id), head = blank("nozzle");
      if (!nozzle) refuse("ws_no_such", id);
      state.nozzleId = id;
      state.nozzle = fill(head, nozzle, Object.keys(head));
      state.jets = nozzle.jets.map(function (jet) { return fill(blank("jet"), jet, Object.keys(jet)); });
    }
    function fillMaterial(state, id, condition) {
      var material = own(data.materials, id);
      if (!material) refuse("ws_no_such", id);
      state.material = id;
      state.condition = own(material.ceilings, condition) ? condition : Object.keys(material.ceilings)[0];
      if (material.n) state.job.n = material.n;
    }

    // ---- the address
    function packed(text, field) {
      var read;
      try {
        read = text && field.of !== "choice" ? u.parse(text, u.free(field), null) : null;
      } catch (e) { read = null; }
      var short = !read ? text :
        read.number.replace(" ", "-") + (read.unit ? read.unit.plain.replace(/ /g, "") : "");
      return encodeURIComponent(short).replace(/%2F/g, "/");
    }
    function packedRow(row, group) {
      return form[group].map(function (field) { return packed(row[field.id], field); })
        .join(",").replace(/,+$/, "");
    }
    function encode(state) {
      var parts = [], base = empty();
      function put(name, value) { parts.push(name + "=" + value); }
      function putGroup(group, now, start) {
        form[group].forEach(function (field) {
          if (now[field.id] !== start[field.id]) put(field.id, packed(now[field.id], field));
        });
      }
      function putRows(name, now, start, written) {
        var rows = now.map(written);
        if (rows.join("\n") === start.map(written).join("\n")) return;
        if (!rows.length) put(name, "none");
        rows.forEach(function (row) { put(name, row); });
      }
      if (state.machine) {
        fillMachine(base, state.machine, state.carried);
        put("machine", state.machine + "/" + state.carried);
      }
      if (state.nozzleId) {
        fillNozzle(base, state.nozzleId);
        put("nozzle", state.nozzleId);
      }
      if (state.material) {
        fillMaterial(base, state.material, state.condition);
        put("material", state.material + "/" + state.condition);
      }
      putGroup("pump", state.pump, base.pump);
      putRows("hose", state.hoses, base.hoses, function (row) {
        return packedRow(row, "hose") + (row.id ? ";" + row.id : "");
      });
      putGroup("nozzle", state.nozzle, base.nozzle);
      putRows("jet", state.jets, base.jets, function (row) { return packedRow(row, "jet"); });
      putGroup("job", state.job, base.job);
      WHAT.forEach(function (name) {
        if (state.what[name]) put("if-" + name, encodeURIComponent(state.what[name]).replace(/%2F/g, "/"));
      });
      data.form.sums.forEach(function (sum) {
        var row = own(state.sums, sum.id);
        if (row) {
          put("sum-" + sum.id, sum.fields.map(function (field) { return packed(row[field.id], field); })
            .join(","));
        }
      });
      return parts.join("&");
    }
    function plainText(text) {
      var plain;
      try { plain = decodeURIComponent(text); } catch (e) { plain = text; }
      return plain.replace(/[\u0000-\u001f\u007f]/g, " ").slice(0, LONGEST);
    }
    function unpackedRow(text, fields) {
      var cells = text.split(","), row = {};
      fields.forEach(function (field, i) {
        row[field.id] = i < cells.length ? plainText(cells[i]) : field.is || "";
      });
      return row;
    }
    // Reads an address; `told` collects what could not be taken, as [word, value].
    function decode(hash, told) {
      var state = empty(), rows = { hose: [], jet: [] }, seen = {}, where = Object.create(null);
      function attempt(run) {
        try { run(); } catch (error) {
          if (!error || !error.refused) throw error;
          told.push([error.refused, error.value]);
        }
      }
      ["pump", "nozzle", "job"].forEach(function (group) {
        form[group].forEach(function (field) { where[field.id] = group; });
      });
      if (hash.length > 4000) told.push(["ws_too_long"]);
      var pairs = hash.slice(0, 4000).replace(/^#/, "").split("&").slice(0, 80).map(function (part) {
        var at = part.indexOf("=");
        return at < 0 ? ["", ""] : [part.slice(0, at), part.slice(at + 1)];
      });
      // The fleet first: what is written out beside it goes before it.
      pairs.forEach(function (pair) {
        var ids = plainText(pair[1]).split("/");
        if (pair[0] === "machine") attempt(function () { fillMachine(state, ids[0], ids[1]); });
        if (pair[0] === "nozzle") attempt(function () { fillNozzle(state, ids[0]); });
        if (pair[0] === "material") attempt(function () { fillMaterial(state, ids[0], ids[1]); });
      });
      pairs.forEach(function (pair) {
        var name = pair[0], value = pair[1], halves, row;
        if (own(rows, name)) {
          seen[name] = true;
          if (value === "none" || rows[name].length >= MOST) return;
          halves = value.split(";");
          row = unpackedRow(halves[0], form[name]);
          if (name === "hose" && own(data.hoses, halves[1])) row.id = halves[1];
          rows[name].push(row);
        } else if (where[name]) {
          state[where[name]][name] = plainText(value);
        } else if (/^if-/.test(name) && WHAT.indexOf(name.slice(3)) >= 0) {
          state.what[name.slice(3)] = plainText(value);
        } else if (/^sum-/.test(name)) {
          data.form.sums.forEach(function (sum) {
            if (sum.id === name.slice(4)) state.sums[sum.id] = unpackedRow(value, sum.fields);
          });
        }
      });
      if (seen.hose) state.hoses = rows.hose;
      if (seen.jet) state.jets = rows.jet;
      return state;
    }

    // ---- YAML
    var NESTED = {
      reel: "reel_diameter", onReel: "on_reel",
      cd: "discharge_coefficient", cv: "velocity_coefficient"
    };
    function toYaml(state) {
      var lines = [];
      function put(indent, name, text) {
        if (text) {
          lines.push(indent + (NESTED[name] || name) + ": " +
            text.replace(/−/g, "-").replace(/[^\w .\/%°³-]/g, ""));
        }
      }
      function rows(indent, list, names) {
        list.forEach(function (row) {
          var from = lines.length;
          names.forEach(function (name) { put(indent + "  ", name, row[name]); });
          if (lines.length > from) lines[from] = indent + "- " + lines[from].slice(indent.length + 2);
        });
      }
      if (state.job.water) lines.push("water:");
      put("  ", "temperature", state.job.water);
      lines.push("pump:");
      ["flow", "pressure", "unloader"].forEach(function (name) { put("  ", name, state.pump[name]); });
      lines.push(state.hoses.length ? "hoses:" : "hoses: []");
      rows("  ", state.hoses, ["bore", "length", "roughness", "onReel", "reel"]);
      lines.push("nozzle:");
      put("  ", "cd", state.nozzle.cd);
      put("  ", "cv", state.nozzle.cv);
      lines.push("  jets:");
      rows("    ", state.jets, ["count", "bore", "number", "angle", "faces"]);
      put("", "nozzle_below_pump", state.job.below);
      return lines.join("\n") + "\n";
    }
    // Reads the plain part of YAML that a setup needs: maps, lists, one level inside a line.
    function readYaml(text) {
      var lines = [], at = 0;
      text.slice(0, 20000).split(/\r?\n/).slice(0, 400).forEach(function (line) {
        var bare = line.replace(/(^|\s)#.*$/, "").replace(/\s+$/, "");
        if (/^\s*\t/.test(bare)) refuse("ws_yaml_bad", line.trim().slice(0, LONGEST));
        if (bare && bare !== "---") lines.push([bare.search(/\S/), bare.trim()]);
      });
      function scalar(word) {
        var inside = word.trim().replace(/^(["'])(.*)\1$/, "$2");
        if (/^\{.*\}$/.test(inside)) return flow(inside, function (parts) {
          var map = Object.create(null);
          parts.forEach(function (part) { pair(part, map); });
          return map;
        });
        if (/^\[.*\]$/.test(inside)) return flow(inside, function (parts) { return parts.map(scalar); });
        return inside;
      }
      function flow(word, make) {
        var parts = [""], depth = 0;
        word.slice(1, -1).split("").forEach(function (sign) {
          depth += /[{[]/.test(sign) ? 1 : /[}\]]/.test(sign) ? -1 : 0;
          if (depth > 4) refuse("ws_yaml_bad", word.slice(0, LONGEST));
          if (sign === "," && !depth) parts.push("");
          else parts[parts.length - 1] += sign;
        });
        return make(parts.filter(function (part) { return part.trim(); }));
      }
      function pair(line, map) {
        var match = /^\s*["']?(\w+)["']?\s*:(?:\s+(.*))?$/.exec(line);
        if (!match) refuse("ws_yaml_bad", line.slice(0, LONGEST));
        map[match[1]] = match[2] ? scalar(match[2]) : null;
        return match[1];
      }
      function block(indent, depth) {
        var list = /^-( |$)/.test(lines[at][1]), found = list ? [] : Object.create(null), line, name;
        if (depth > 6) refuse("ws_yaml_bad", lines[at][1].slice(0, LONGEST));
        while (at < lines.length && lines[at][0] === indent) {
          line = lines[at][1];
          if (list !== /^-( |$)/.test(line)) break;
          if (list) {
            var rest = line.slice(1).trim();
            if (/^["']?\w+["']?\s*:(\s|$)/.test(rest)) {
              lines[at] = [indent + line.length - rest.length, rest];
              found.push(block(lines[at][0], depth + 1));
            } else {
              at += 1;
              found.push(scalar(rest));
            }
          } else {
            name = pair(line, found);
            at += 1;
            if (found[name] === null && at < lines.length && (lines[at][0] > indent ||
                (lines[at][0] === indent && /^-( |$)/.test(lines[at][1])))) {
              found[name] = block(lines[at][0], depth + 1);
            }
          }
        }
        return found;
      }
      if (!lines.length) refuse("ws_yaml_bad", "");
      var whole = block(lines[0][0], 0);
      if (at < lines.length) refuse("ws_yaml_bad", lines[at][1].slice(0, LONGEST));
      return whole;
    }
    function fromYaml(text) {
      var said = readYaml(text), state = empty();
      function known(map, names) {
        if (!map || typeof map !== "object") refuse("ws_yaml_bad", String(map).slice(0, LONGEST));
        Object.keys(map).forEach(function (name) {
          if (names.indexOf(name) < 0) refuse("ws_yaml_unknown", name.slice(0, LONGEST));
        });
      }
      function take(target, map, names) {
        var written = names.map(function (name) { return NESTED[name] || name; });
        known(map, written.concat("hose", "jets"));
        names.forEach(function (name, i) {
          if (map[written[i]] !== undefined) target[name] = plainText(String(map[written[i]]));
        });
        return target;
      }
      function each(list, make) {
        if (!Array.isArray(list)) refuse("ws_yaml_bad", "");
        return list.slice(0, MOST).map(make);
      }
      known(said, ["water", "machine", "pump", "hoses", "nozzle", "nozzle_below_pump"]);
      if (said.machine) fillMachine(state, String(said.machine));
      if (said.pump) take(state.pump, said.pump, ["flow", "pressure", "unloader"]);
      if (said.hoses) {
        state.hoses = each(said.hoses, function (row) {
          var start = row && row.hose ? stockHose(String(row.hose)) : blank("hose");
          return take(start, row, ["bore", "length", "roughness", "onReel", "reel"]);
        });
      }
      if (typeof said.nozzle === "string") fillNozzle(state, said.nozzle);
      else if (said.nozzle) {
        take(state.nozzle, said.nozzle, ["cd", "cv"]);
        state.jets = each(said.nozzle.jets, function (row) {
          return take(blank("jet"), row, ["count", "bore", "number", "angle", "faces"]);
        });
      }
      if (said.water) {
        known(said.water, ["temperature"]);
        if (said.water.temperature) state.job.water = plainText(String(said.water.temperature));
      }
      if (said.nozzle_below_pump) state.job.below = plainText(String(said.nozzle_below_pump));
      return state;
    }

    return {
      empty: empty, blank: blank, own: own, fillMachine: fillMachine, fillNozzle: fillNozzle,
      fillMaterial: fillMaterial, stockHose: stockHose, encode: encode, decode: decode,
      toYaml: toYaml, fromYaml: fromYaml, most: MOST
    };
  };
})(window.refgenSheet = window.refgenSheet || {});
