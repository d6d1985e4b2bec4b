// A wide table on a narrow phone: the name of a row shows that row alone, one column a line.
(function () {
  "use strict";
  var page = window.refgenPage, words = window.refgenWords;
  var narrow = matchMedia("(max-width: 40rem)"), LEAST = 3; // columns, below which a table is read as it is

  function control(kind, text, act) {
    var button = document.createElement("button");
    button.type = "button";
    button.className = kind;
    button.textContent = text;
    button.onclick = act;
    return button;
  }
  // What stands in a cell, without the ids that would then stand twice.
  function copied(cell, place) {
    Array.prototype.forEach.call(cell.cloneNode(true).childNodes, function (node) {
      if (node.nodeType === 1) node.removeAttribute("id");
      place.appendChild(node.cloneNode(true));
    });
  }
  function listOf(row) {
    var list = document.createElement("dl");
    var heads = row.closest("table").tHead.rows[0].cells;
    list.className = "facts";
    Array.prototype.forEach.call(row.cells, function (cell, index) {
      if (index === 0) return;
      var line = document.createElement("div"), name = document.createElement("dt");
      var value = document.createElement("dd");
      copied(heads[index], name);
      copied(cell, value);
      line.append(name, value);
      list.appendChild(line);
    });
    return list;
  }
  function show(row) {
    var dialog = document.getElementById("_one-row"), head = document.createElement("h2");
    if (!dialog) {
      dialog = document.createElement("dialog");
      dialog.id = "_one-row";
      dialog.className = "one-row md-typeset";
      dialog.setAttribute("aria-labelledby", "_one-row-name");
      dialog.addEventListener("close", function () { if (dialog.row) dialog.row.querySelector("th a, th button").focus(); });
      document.body.appendChild(dialog);
    }
    head.id = "_one-row-name";
    head.textContent = row.cells[0].textContent;
    dialog.row = row;
    dialog.replaceChildren(head, listOf(row));
    var link = row.cells[0].querySelector("a"), ways = document.createElement("p");
    if (link) {
      var open = document.createElement("a");
      open.href = link.href;
      open.className = "row";
      open.textContent = words.here_row_open;
      dialog.appendChild(open);
    }
    [["previousElementSibling", words.here_row_before], ["nextElementSibling", words.here_row_next]].forEach(function (way) {
      var other = row[way[0]];
      if (other) ways.appendChild(control("choose", way[1], function () { show(other); }));
    });
    ways.appendChild(control("choose", words.here_row_close, function () { dialog.close(); }));
    dialog.appendChild(ways);
    if (!dialog.open) dialog.showModal();
    dialog.scrollTop = 0;
  }

  document.addEventListener("DOMContentLoaded", function () {
    page.each(".box .look", function (table) {
      if (!table.tHead || table.tHead.rows[0].cells.length <= LEAST) return;
      Array.prototype.forEach.call(table.tBodies[0].rows, function (row) {
        var name = row.cells[0], link = name.querySelector("a");
        if (link) {
          link.addEventListener("click", function (event) {
            if (!narrow.matches) return;
            event.preventDefault();
            show(row);
          });
        } else if (narrow.matches) {
          var button = control("row-name", name.textContent, function () { show(row); });
          name.replaceChildren(button);
        }
      });
    });
    // The machine's row at once: the box is moved, never the page.
    page.each(".box", function (box) {
      var row = box.querySelector("tr[data-mine]");
      if (!row) return;
      var head = row.closest("table").tHead.offsetHeight;
      if (row.offsetTop + row.offsetHeight > box.clientHeight) box.scrollTop = row.offsetTop - head;
    });
  });
})();
