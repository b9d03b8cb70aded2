(function () {
  'use strict';
  var filters = document.getElementById('filters');
  var group = document.getElementById('f-g');
  var scale = document.getElementById('f-s');
  var count = document.getElementById('count');
  var unfold = document.getElementById('unfold');
  var rows = Array.from(document.getElementById('rows').rows);
  var groups = Array.from(document.querySelectorAll('.group'));
  function shows(e) {
    return (group.value === '' || e.dataset.g === group.value) && (scale.value === '' || e.dataset.s === scale.value);
  }
  function apply() {
    rows.forEach(function (row) { row.hidden = !shows(row); });
    groups.forEach(function (g) {
      var any = false;
      Array.from(g.querySelectorAll('.part')).forEach(function (part) {
        part.hidden = !shows(part);
        any = any || !part.hidden;
      });
      g.hidden = !any;
    });
    count.textContent = rows.filter(function (row) { return !row.hidden; }).length + ' of ' + rows.length + ' sections';
  }
  filters.hidden = false;
  group.addEventListener('change', apply);
  scale.addEventListener('change', apply);
  document.getElementById('clear').addEventListener('click', function () {
    group.value = '';
    scale.value = '';
    apply();
    group.focus();
  });
  unfold.addEventListener('click', function () {
    var open = unfold.textContent === 'Unfold all numbers';
    Array.from(document.querySelectorAll('.part:not([hidden]) details')).forEach(function (d) { d.open = open; });
    unfold.textContent = open ? 'Fold all numbers' : 'Unfold all numbers';
  });
}());
