// The slider moves the marker from plan to plan; the numbers are those of the
// table below it. Without this the table says it all.
(function () {
  "use strict";
  var box = document.getElementById("trade-slider");
  if (!box) { return; }
  var range = document.getElementById("trade-range");
  var say = document.getElementById("trade-say");
  var marker = document.getElementById("trade-marker");
  var rows = document.querySelectorAll("#trade-table tbody tr");
  if (rows.length === 1) { return; }
  function show() {
    var row = rows[range.value], c = row.cells;
    marker.setAttribute("transform", "translate(" + row.dataset.x + " " + row.dataset.y + ")");
    var text = c[0].textContent + ": " + c[1].textContent + " of its need at the tool served worst, " + c[2].textContent + (c[2].textContent === "1" ? " change, " : " changes, ") + c[3].textContent + ". ";
    var rest = c[4].textContent;
    if (rest === "this page") { text += "The plan of this page."; }
    else if (rest) { text += "Otherwise than this page: " + rest + "."; }
    say.textContent = text;
    range.setAttribute("aria-valuetext", c[0].textContent + ", " + c[1].textContent);
    rows.forEach(function (r) { r.classList.toggle("shown", r === row); });
  }
  range.addEventListener("input", show);
  box.hidden = false;
  show();
})();
