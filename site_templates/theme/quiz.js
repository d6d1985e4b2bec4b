// Questions of a lesson: the learner tries first, then sees answer and reasons. What was chosen at
// the first try stays on this phone and nowhere else. Without script the answers are folded under
// each question. Nothing here makes HTML from text: elements are made, text is set.
(function () {
  "use strict";
  var quiz, result, name, kept;

  function each(list, act) { Array.prototype.forEach.call(list, act); }
  function make(tag, text) {
    var element = document.createElement(tag);
    if (text) element.textContent = text;
    return element;
  }
  function recall() {
    try {
      var found = JSON.parse(localStorage.getItem(name) || "null");
      return found && typeof found === "object" && !Array.isArray(found) ? found : {};
    } catch (e) { return {}; }
  }
  function keep() {
    try { localStorage.setItem(name, JSON.stringify(kept)); } catch (e) { /* for this page only */ }
  }
  function said(word) { return quiz.getAttribute("data-" + word); }

  function isRight(question, chosen) {
    return Array.prototype.every.call(question.querySelectorAll("[data-answer]"), function (line) {
      var id = line.getAttribute("data-answer");
      return line.hasAttribute("data-right") === (chosen.indexOf(id) >= 0);
    });
  }
  function known(question, chosen) {
    return Array.isArray(chosen) && chosen.length > 0 && chosen.every(function (id) {
      return Array.prototype.some.call(question.querySelectorAll("[data-answer]"), function (line) {
        return line.getAttribute("data-answer") === id;
      });
    });
  }

  function settle(question, chosen) {
    var right = isRight(question, chosen), details = question.querySelector("details");
    each(question.querySelectorAll("input"), function (input) {
      input.checked = chosen.indexOf(input.value) >= 0;
      input.disabled = true;
    });
    question.setAttribute("data-done", right ? "right" : "wrong");
    question.querySelector(".verdict").textContent = said(right ? "right" : "wrong");
    question.querySelector(".check").hidden = true;
    details.hidden = false;
    details.open = true;
  }

  function score() {
    var asked = Array.prototype.filter.call(quiz.querySelectorAll(".question"), function (question) {
      return !question.hidden;
    });
    var done = asked.filter(function (q) { return q.hasAttribute("data-done"); });
    var right = done.filter(function (q) { return q.getAttribute("data-done") === "right"; });
    result.hidden = !done.length;
    result.querySelector(".score").textContent =
      result.getAttribute("data-said").replace("{right}", right.length).replace("{all}", asked.length) +
      (done.length < asked.length
        ? " " + result.getAttribute("data-open").replace("{count}", asked.length - done.length) : "");
  }

  function prepare(question) {
    var id = question.id, list = question.querySelector(".answers");
    var several = Number(list.getAttribute("data-rights")) > 1;
    list.setAttribute("role", several ? "group" : "radiogroup");
    list.setAttribute("aria-labelledby", "_ask-" + id);
    each(list.querySelectorAll("[data-answer]"), function (line) {
      var label = make("label"), input = make("input"), text = make("span");
      input.type = several ? "checkbox" : "radio";
      input.name = "_" + id;
      input.value = line.getAttribute("data-answer");
      while (line.firstChild) text.appendChild(line.firstChild);
      line.setAttribute("role", "presentation");
      label.appendChild(input);
      label.appendChild(text);
      line.appendChild(label);
    });
    var check = make("button", said("check")), verdict = make("p");
    check.type = "button";
    check.className = "choose check";
    verdict.className = "verdict";
    verdict.setAttribute("role", "status");
    if (several) list.before(make("p", said("several")));
    list.after(check, verdict);
    question.querySelector("details").hidden = true;
    check.onclick = function () {
      var chosen = Array.prototype.filter.call(list.querySelectorAll("input"), function (input) {
        return input.checked;
      }).map(function (input) { return input.value; });
      if (!chosen.length) { verdict.textContent = said("choose"); return; }
      kept[id] = chosen;
      keep();
      settle(question, chosen);
      score();
      // The button is gone: who works by keyboard goes on from the reasons that came in its place.
      question.querySelector("summary").focus();
    };
    if (known(question, kept[id])) settle(question, kept[id]);
  }

  document.addEventListener("DOMContentLoaded", function () {
    quiz = document.querySelector(".quiz");
    result = document.querySelector(".result");
    if (!quiz) return;
    name = "refgen:lesson:" + quiz.getAttribute("data-lesson");
    kept = recall();
    each(quiz.querySelectorAll(".question"), prepare);
    result.querySelector(".print").onclick = function () {
      document.documentElement.setAttribute("data-print", "result");
      print();
      document.documentElement.removeAttribute("data-print");
    };
    result.querySelector(".clear").onclick = function () {
      try { localStorage.removeItem(name); } catch (e) { /* nothing was kept */ }
      location.reload();
    };
    document.addEventListener("refgen:class", score);
    score();
  });
})();
