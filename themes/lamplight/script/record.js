/* The search box of the service record: an addition; without it everything is in the list below. What is called exactly so comes
   alone; else all that has each word, or begins with it. */
(function () {
  var box = document.querySelector(".search"), field = document.getElementById("q"), none = document.getElementById("none");
  var rows = [].map.call(document.querySelectorAll("[data-known]"), function (row) {
    return {row: row, known: row.dataset.known.split(" "), name: fold(row.querySelector("strong").textContent).join(" ")};
  });
  function fold(text) {
    return text.toLowerCase().normalize("NFD").replace(/[\u0300-\u036f]/g, "").split(/[^a-z0-9]+/).filter(Boolean);
  }
  function find() {
    var words = fold(field.value), asked = words.join(" ");
    var named = rows.filter(function (one) { return one.name === asked; });
    var found = named.length ? named : rows.filter(function (one) {
      return words.length && words.every(function (word) {
        return one.known.some(function (known) { return known === word || !/^\d+$/.test(word) && known.indexOf(word) === 0; });
      });
    });
    rows.forEach(function (one) { one.row.hidden = words.length > 0 && found.indexOf(one) < 0; });
    document.querySelector(".index").open = words.length > 0;
    none.hidden = found.length > 0 || !words.length;
  }
  field.addEventListener("input", find);
  field.addEventListener("keydown", function (event) {
    var first = document.querySelector("[data-known]:not([hidden]) a");
    if (event.key === "Enter" && field.value && first) first.click();
  });
  box.hidden = false;
  find();
})();
