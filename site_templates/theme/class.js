// The machines of a class. The trainer chooses them; the choice stays on this device and travels
// in the address (?class=one.two), so that the learners' pages show the same. Where nobody has
// chosen, a learner's own machine stands for the class. Without script everything is shown, each
// row with the machines it is for.
(function () {
  "use strict";
  var NAME = "refgen:class";
  var boxes = document.querySelectorAll(".class input[name=class]");

  function each(selector, act) {
    Array.prototype.forEach.call(document.querySelectorAll(selector), act);
  }
  function words(element, name) {
    return (element.getAttribute(name) || "").split(" ").filter(Boolean);
  }
  function stored(name) {
    try { return JSON.parse(localStorage.getItem(name) || "null"); } catch (e) { return null; }
  }
  function texts(list) {
    return Array.isArray(list) ? list.filter(function (id) { return typeof id === "string"; }) : [];
  }
  function atFirst() {
    var asked = new URLSearchParams(location.search).get("class");
    if (asked !== null) return asked.split(".").filter(Boolean);
    var kept = texts(stored(NAME));
    if (kept.length || boxes.length) return kept;
    var mine = stored("refgen:machine");
    return mine && typeof mine.id === "string" ? [mine.id] : [];
  }
  function among(list) {
    return function (id) { return list.indexOf(id) >= 0; };
  }

  function differs(row) {
    var values = Array.prototype.filter.call(row.querySelectorAll("[data-value]"), function (cell) {
      return !cell.hidden;
    }).map(function (cell) { return cell.getAttribute("data-value"); });
    return values.some(function (value) { return value !== values[0]; });
  }
  function compare(chosen) {
    each("[data-column]", function (cell) {
      cell.hidden = chosen.length > 0 && !among(chosen)(cell.getAttribute("data-column"));
    });
    var only = document.querySelector(".only-differing input");
    each("[data-row]", function (row) {
      var mark = row.querySelector(".differs-here"), differing = differs(row);
      row.toggleAttribute("data-differs", differing);
      row.hidden = !!only && only.checked && !differing;
      if (mark) mark.hidden = !differing;
    });
    each("[data-step-row]", function (row) { row.hidden = !differs(row); });
    each("[data-steps]", function (section) {
      section.hidden = !section.querySelector("[data-step-row]:not([hidden])");
    });
    each("[data-steps-link]", function (row) { row.hidden = document.getElementById("_done").parentNode.hidden; });
  }

  function show(chosen) {
    var left = 0;
    each("[data-machines]", function (element) {
      var machines = words(element, "data-machines");
      element.hidden = chosen.length > 0 && !chosen.some(among(machines));
      var within = element.parentElement.closest("[data-machines][hidden]");
      left += element.hidden && !within ? 1 : 0;
      var label = element.querySelector(".only");
      if (label) label.hidden = chosen.length > 0 && chosen.every(among(machines));
    });
    each(".left-out", function (line) {
      line.hidden = !left;
      line.textContent = line.getAttribute("data-said").replace("{count}", left);
    });
    each("a[data-class]", function (link) {
      link.search = chosen.length ? "?class=" + chosen.map(encodeURIComponent).join(".") : "";
    });
    compare(chosen);
    document.dispatchEvent(new CustomEvent("refgen:class"));
  }

  document.addEventListener("DOMContentLoaded", function () {
    var chosen = atFirst();
    Array.prototype.forEach.call(boxes, function (box) {
      box.checked = among(chosen)(box.value);
      box.onchange = function () {
        var now = Array.prototype.filter.call(boxes, function (b) { return b.checked; });
        now = now.map(function (b) { return b.value; });
        try { localStorage.setItem(NAME, JSON.stringify(now)); } catch (e) { /* not remembered */ }
        // An address that named a class would win again at the next look.
        if (location.search) history.replaceState(null, "", location.pathname + location.hash);
        show(now);
      };
    });
    each(".only-differing input", function (box) {
      box.onchange = function () {
        compare(Array.prototype.filter.call(boxes, function (b) { return b.checked; })
          .map(function (b) { return b.value; }));
      };
    });
    show(chosen);
  });
})();
