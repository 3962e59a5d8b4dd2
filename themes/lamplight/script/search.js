/* The search box of the start page: an addition; without it every outlet is in its room below. A word counts most where it is
   what a thing is called, less where it is where it stands, and the more the fewer things have it; one that no thing has may be
   one letter wrong. */
(function () {
  var box = document.querySelector(".search"), field = document.getElementById("q"), none = document.getElementById("none");
  var list = document.getElementById("found"), stop = document.querySelector(".stop"), lists = {};
  var folds = document.querySelectorAll(".fold"), wide = matchMedia("(min-width: 64rem)");
  function fold(text) {
    return text.toLowerCase().normalize("NFD").replace(/[\u0300-\u036f]/g, "").split(/[^a-z0-9]+/).filter(function (word) {
      return word.length > 1 || word > 0;
    });
  }
  ["skip", "stop", "calm"].forEach(function (name) { lists[name] = box.dataset[name].split(" "); });
  function any(words, name) {
    return words.some(function (word) { return lists[name].indexOf(word) >= 0; });
  }
  var rows = [].map.call(document.querySelectorAll("[data-called]"), function (row) {
    return {row: row, called: row.dataset.called.split(" "), stands: row.dataset.stands.split(" ")};
  });
  function alike(word, name) {
    if (word === name) return 3;
    if (name.indexOf(word) === 0) return 2;
    if (name.length < 4) return 0;
    return (word.indexOf(name) === 0 ? 2 : 0) + (word.slice(-name.length) === name ? 2 : 0);
  }
  function near(word, name) {
    var at = 0, end = 0, most = Math.min(word.length, name.length);
    if (most < 4 || Math.abs(word.length - name.length) > 1) return 0;
    while (at < most && word[at] === name[at]) at++;
    while (end < most - at && word[word.length - 1 - end] === name[name.length - 1 - end]) end++;
    var left = Math.max(word.length, name.length) - at - end;
    return left < 2 || left === 2 && word[at] === name[at + 1] && word[at + 1] === name[at] ? 1 : 0;
  }
  function best(word, names, how) {
    var most = 0, parts = 0;    /* of "hairdryer", "hair" and "dryer" are parts */
    names.forEach(function (name) {
      var one = how(word, name);
      most = Math.max(most, one);
      if (one === 2 && word.length > name.length) parts += 2;
    });
    return Math.max(most, Math.min(parts, 4));
  }
  function rare(word, part, how) {
    var all = rows.map(function (one) { return best(word, one[part], how); });
    var weight = Math.log(1 + rows.length / all.filter(Boolean).length);
    return all.map(function (score) { return score && score * weight; });
  }
  function scores(word) {
    return [alike, near].map(function (how) {
      var called = rare(word, "called", how), stands = rare(word, "stands", how);
      return called.map(function (score, at) { return Math.max(3 * score, stands[at]); });
    }).filter(function (all) { return all.some(Boolean); })[0];
  }
  function find() {
    var words = fold(field.value), alarm = any(words, "stop") && !any(words, "calm");
    var each = words.filter(function (word) { return lists.skip.indexOf(word) < 0; }).map(scores).filter(Boolean);
    var sums = rows.map(function (one, at) {
      var fits = each.map(function (all) { return all[at]; }).filter(Boolean);
      return {row: one.row, score: fits.length * fits.reduce(function (sum, score) { return sum + score; }, 0)};
    }).filter(function (one) { return one.score; }).sort(function (one, other) { return other.score - one.score; });
    sums = sums.filter(function (one) { return one.score > sums[0].score / 2; }).slice(0, 12);
    list.textContent = "";
    sums.forEach(function (one) {
      var copy = one.row.cloneNode(true), group = one.row.closest(".room-group");
      if (group) {
        var where = copy.querySelector("span") || copy.firstChild.appendChild(document.createElement("span"));
        where.textContent = [group.querySelector("h3").textContent, where.textContent].filter(Boolean).join(" · ");
      }
      list.append(copy);
    });
    list.hidden = !sums.length;
    none.hidden = sums.length > 0 || alarm || !words.length;
    stop.classList.toggle("alarm", alarm);
    folds.forEach(function (part) { part.hidden = alarm ? part.id !== "help" : sums.length > 0; });
    if (alarm) stop.scrollIntoView();
  }
  function go(event) {
    var first = list.querySelector("a");
    if (event.key === "Enter" && first) first.click();
  }
  function open() {
    document.querySelectorAll("details").forEach(function (room) { room.open = wide.matches; });
  }
  field.addEventListener("input", find);
  field.addEventListener("keydown", go);
  addEventListener("hashchange", function () {
    field.value = "";
    find();
    document.querySelector(location.hash || "h1").scrollIntoView();
  });
  if (wide.matches) open();
  wide.addEventListener("change", open);
  box.hidden = false;
  find();
})();
