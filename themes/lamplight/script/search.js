/* The search box of the start page: an addition; without it every outlet is in the list below. */
(function () {
  var box = document.querySelector(".search"), field = document.getElementById("q"), none = document.getElementById("none");
  var rooms = document.querySelector(".jump");
  var skip = box.dataset.skip.split(" ");
  function fold(text) {
    return text.toLowerCase().normalize("NFD").replace(/[\u0300-\u036f]/g, "").split(/[^a-z0-9]+/).filter(function (word) {
      return word && skip.indexOf(word) < 0;
    });
  }
  function find() {
    var wanted = fold(field.value), found = 0;
    document.querySelectorAll(".room-group").forEach(function (group) {
      var here = 0;
      group.querySelectorAll("li").forEach(function (row) {
        var known = row.dataset.words.split(" ");
        var fits = wanted.every(function (word) {
          return known.some(function (name) { return name.indexOf(word) === 0; });
        });
        row.hidden = !fits;
        here += fits;
      });
      group.hidden = !here;
      found += here;
    });
    none.hidden = found > 0;
    rooms.hidden = wanted.length > 0;
  }
  function go(event) {
    var first = document.querySelector(".room-group:not([hidden]) li:not([hidden]) a");
    if (event.key === "Enter" && first && fold(field.value).length) location.href = first.href;
  }
  field.addEventListener("input", find);
  field.addEventListener("keydown", go);
  box.hidden = false;
  find();
})();
