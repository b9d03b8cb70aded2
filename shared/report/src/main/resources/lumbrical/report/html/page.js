(function () {
  'use strict';
  var filters = document.getElementById('filters');
  if (!filters) { return; }
  var search = document.getElementById('q');
  var choices = ['c', 'v', 'd'].map(function (k) { return document.getElementById('f-' + k); });
  var count = document.getElementById('count');
  var rows = Array.from(document.getElementById('rows').rows);
  var texts = null;
  function entry(row) {
    var article = document.getElementById(row.querySelector('a').hash.slice(1));
    return { row: row, text: row.textContent.toLowerCase(), article: article, patient: article.closest('.patient') };
  }
  function has(row, key, value) {
    return value === '' || (' ' + row.getAttribute('data-' + key) + ' ').indexOf(' ' + value + ' ') >= 0;
  }
  function apply() {
    texts = texts || rows.map(entry);
    var words = search.value.toLowerCase().split(/\s+/).filter(Boolean);
    var patients = new Set();
    var shown = 0;
    texts.forEach(function (e) {
      var show = words.every(function (w) { return e.text.indexOf(w) >= 0; })
        && has(e.row, 'c', choices[0].value) && has(e.row, 'v', choices[1].value) && has(e.row, 'd', choices[2].value);
      if (e.row.hidden === show) { e.row.hidden = !show; }
      e.show = show;
      if (show) { patients.add(e.patient); shown += 1; }
    });
    texts.forEach(function (e) {
      var show = patients.has(e.patient);
      if (e.patient.hidden === show) { e.patient.hidden = !show; }
      if (show && e.article.hidden === e.show) { e.article.hidden = !e.show; }
    });
    count.textContent = shown + ' of ' + rows.length + ' episodes';
  }
  filters.hidden = false;
  search.addEventListener('input', apply);
  choices.forEach(function (c) { c.addEventListener('change', apply); });
  document.getElementById('clear').addEventListener('click', function () {
    search.value = '';
    choices.forEach(function (c) { c.value = ''; });
    apply();
    search.focus();
  });
}());
