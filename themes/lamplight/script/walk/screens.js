/* The screens around a test: start, list, another test, a row that is saved, send, open twice. */
var at = "start", picked = null, sent = null, lacks = null;
function go(screen) { at = screen; lacks = null; keep(); draw(); }
function draw() {
  if (store.taken) { show("twice", twiceScreen()); return; }
  var screens = {start: startScreen, list: listScreen, other: otherScreen, row: rowScreen, send: sendScreen, test: testScreen};
  var screen = screens[at]();
  show(screen.name || at, screen);
}

function placeOf(id) {
  var spot = OUTLET[id] || OPENER[id];
  if (spot.space) { return [apart(spot.room), spot.at ? [" · ", apart(spot.at)] : null]; }
  return [apart(spot.room), " · ", apart(spot.at), spot.use ? [" · ", apart(spot.use)] : null];
}
function spotOf(id) {
  var spot = OUTLET[id] || OPENER[id];
  return spot.space ? apart(spot.serves) : [spot.at ? apart(spot.at) : null, spot.use ? [" · ", apart(spot.use)] : null];
}
/* Where a test is made; the last walk is of the whole house. */
function whereOf(test, here) { return test.open ? test.open.join(" ") : test.part === "last" ? null : here(test.outlet); }
/* What a test is called: "Tester at K2", "TEST on breaker 5". */
function nameOf(test) {
  if (test.heading) { return [apart(test.heading)]; }
  if (test.part === "last") { return tell("test.last"); }
  var breaker = OPENER[test.outlet] && OPENER[test.outlet].space;
  return tell("test." + test.pressed + (breaker ? "_breaker" : ""), {id: test.outlet, space: breaker || ""});
}
function plainName(test) { return make("p", {}, nameOf(test)).textContent; }

function startScreen() {
  var today = stampOf(now()).slice(0, 10);
  var people = DATA.people.concat(has(DATA.people, log.by) || !log.by ? [] : [log.by]);
  var ready = log.by && log.day === today && log.told === today;
  return {top: head(DATA.title, DATA.job), main: [
    heading(tell(log.rows.length ? "start.again" : "start.title")),
    log.rows.length ? para("count", tell("list.count", {done: DATA.tests.length - toDo().length, rows: notFiled()})) : null,
    store.spoilt !== null ? make("div", {"class": "odd"}, para("", tell("start.spoilt"))) : null,
    leftBehind().map(function (old) {
      return make("div", {"class": "odd"}, para("", tell("start.behind", {count: old.rows.length})),
        tap(tell("start.behind_save"), function () { saveFile(fileName(), fileOfTaps(old.rows, old.places)); }, {key: "behind"}));
    }),
    para("keeps " + store.state, tell(store.full ? "list.full" : "start." + store.state)),
    make("h2", {}, tell("start.who")), missing("who"),
    make("div", {"class": "keys"}, people.map(function (name) {
      return tap(apart(name), function () { log.by = name; picked = null; go("start"); }, {key: "by " + name, down: log.by === name});
    }), tap(tell("start.other"), function () { picked = "who"; draw(); focusOn("who"); }, {key: "other", down: picked === "who"})),
    picked === "who" ? typed("who", "start.name", "", function (name) { log.by = name; picked = null; go("start"); }) : null,
    make("h2", {}, tell("start.now")), missing("now"),
    para("clock", [apart(stampOf(now()).slice(0, 16))]),
    today < DATA.latest ? para("warn", tell("start.early", {day: DATA.latest})) : null,
    make("div", {"class": "keys"},
      tap(tell("yes"), function () { log.day = stampOf(now()).slice(0, 10); picked = null; go("start"); }, {key: "now", down: log.day === today}),
      tap(tell("start.not_now"), function () { picked = "clock"; draw(); focusOn("clock"); }, {key: "not now", down: picked === "clock"})),
    picked === "clock" ? clockField() : null,
    make("h2", {}, tell("start.first")),
    make("ul", {}, DATA.words.start.safety.map(function (text, line) { return make("li", {}, tell("start.safety." + line)); }),
      DATA.told.map(function (text) { return make("li", {dir: "auto"}, text); })),
    make("div", {"class": "keys wide"}, missing("told"), tap(tell("start.told"), function () { log.told = log.told === today ? "" : today; go("start"); }, {key: "told", down: log.told === today}))
  ], bar: [tap(tell(log.rows.length || log.open ? "start.on" : "start.go"), function () {
    if (!ready) { missed(!log.by ? "who" : log.day !== today ? "now" : "told"); return; }
    go(log.open ? "test" : "list");
  }, {look: "main", key: "go"})]};
}
/* What is still to be said before the first press: written at its question, and brought into view. */
function missing(what) { return lacks === what ? make("p", {"class": "odd", role: "alert"}, tell("start.say_" + what)) : null; }
function missed(what) {
  lacks = what;
  draw();
  var first = document.querySelector({who: '[data-key^="by "], [data-key="other"]', now: '[data-key="now"]', told: '[data-key="told"]'}[what]);
  first.scrollIntoView({block: "center"});
  first.focus({preventScroll: true});
}
function clockField() {
  var field = make("input", {type: "datetime-local", id: "clock", value: stampOf(now()).slice(0, 16).replace(" ", "T")});
  return make("div", {"class": "field"}, make("label", {"for": "clock"}, tell("start.set")), field, tap(tell("start.take"), function () {
    var meant = new Date(field.value);
    if (isNaN(meant)) { return; }
    log.offset += meant - now();
    log.day = stampOf(now()).slice(0, 10);
    picked = null;
    go("start");
  }, {key: "take"}));
}
/* A text to type, with its own key. */
function typed(id, label, value, take, mode) {
  var field = make("input", {type: "text", id: id, value: value, inputmode: mode, dir: "auto", autocomplete: "off"});
  function done() { var text = oneLine(field.value); if (text) { take(text); } }
  field.addEventListener("keydown", function (event) { if (event.key === "Enter") { done(); } });
  return make("div", {"class": "field"}, make("label", {"for": id}, tell(label)), field, tap(tell("take"), done, {key: "take " + id}));
}
function focusOn(id) { var field = document.getElementById(id); if (field) { field.focus(); } }

function groupOf(test) {
  return test.part === "again" ? "again" : test.part === "round" || test.part === "last" ? "rounds" : test.pressed === "breaker" ? "handles" :
    test.pressed === "none" ? "reads" : "presses";
}
function listScreen() {
  var left = toDo(), next = goOn(), stopped = banner && stateOf(banner.undo.key) === "unreset", here = "", parts = [];
  DATA.tests.concat(extras()).forEach(function (test) {
    var group = test.extra ? "extra" : groupOf(test), place = test.part === "last" ? "" : test.room || "";
    if (parts.length === 0 || parts[parts.length - 1].group !== group || place !== here) {
      parts.push({group: group, room: place, tests: []});
      here = place;
    }
    parts[parts.length - 1].tests.push(test);
  });
  var several = parts.some(function (part) { return part.group !== parts[0].group; }), last = "";
  return {top: head(DATA.title, log.by), main: [
    heading(tell(left.length === 0 ? "list.none" : left.length === 1 ? "list.one" : "list.title", {count: left.length})),
    para("count", tell("list.count", {done: DATA.tests.length - left.length, rows: notFiled()})),
    storeLine(), bannerOf(),
    parts.map(function (part) {
      var fresh = several && part.group !== last;
      last = part.group;
      return [fresh ? make("h2", {"class": "part"}, tell("list.part." + part.group)) : null,
        part.room ? make(fresh || several ? "h3" : "h2", {"class": "room", dir: "auto"}, part.room) : null,
        make("ol", {"class": "tests"}, part.tests.map(testLine))];
    })
  ], bar: [tap(tell("list.send"), function () { sent = null; go("send"); }, {key: "send"}),
    tap(tell("list.other"), function () { picked = {}; go("other"); }, {key: "other"}),
    next ? tap(tell("list.next", {what: make("span", {}, nameOf(next))}), function () { banner = null; openTest(next.key); }, {look: stopped ? "wide" : "main", key: "next"}) : null]};
}
function testLine(test) {
  var state = stateOf(test.key), number = DATA.tests.indexOf(test) + 1;
  return make("li", {}, make("button", {type: "button", "class": "test " + state, "data-key": test.key, on: function () {
    banner = null;
    if (state === "open" || state === "draft") { openTest(test.key); } else { picked = test.key; go("row"); }
  }}, make("span", {"class": "mark", "aria-hidden": "true"}, {done: "✓", kept: "!", unreset: "!", gaps: "◐", draft: "…"}[state] || (number || "+")),
    make("span", {"class": "what"}, make("strong", {}, nameOf(test)), state === "open" ? null : make("em", {}, tell("list.state." + state)),
      make("span", {"class": "spot"}, whereOf(test, spotOf)))));
}
function storeLine() {
  return store.state === "kept" && !store.full ? null : para("keeps " + store.state, tell(store.full ? "list.full" : "list.keeps." + store.state));
}
/* What was just saved, and how it is taken back; after a room, a file. */
function bannerOf() {
  if (!banner) { return null; }
  var stop = stateOf(banner.undo.key) === "unreset" ? para("odd", tell("reset.stop", {what: make("span", {}, nameOf(testOf(banner.undo.key)))})) : null;
  return [stop, make("div", {"class": "said"}, banner.back ? para("warn", tell("clock_back")) : null,
    banner.unlit ? para("warn", tell("lit_again", {ids: banner.unlit})) : null,
    para("", [tell("saved", {what: make("span", {}, nameOf(testOf(banner.undo.key)))}), " ", banner.room ? tell("room_done", {room: banner.room, rows: notFiled()}) : null]),
    make("div", {"class": "pair"}, banner.undo.filed ? null : tap(tell("undo"), function () { undo(banner.undo); }, {key: "undo"}),
      banner.room ? tap(tell("list.send"), function () { sent = null; go("send"); }, {key: "send now"}) : null))];
}

/* A press that was not planned: what, in which room, which one. */
function otherScreen() {
  var kinds = ["tester", "device", "breaker", "none"], found = [], main;
  if (picked.pressed) {
    found = picked.pressed === "tester" || picked.pressed === "none" ? DATA.outlets.filter(function (one) { return picked.pressed === "none" || one.plugs; }) :
      DATA.openers.filter(function (one) { return picked.pressed === "device" ? one.test : one.space; });
  }
  if (!picked.pressed) {
    main = make("div", {"class": "keys wide"}, kinds.map(function (kind) {
      return tap(tell("other." + kind), function () { picked = {pressed: kind}; draw(); }, {key: kind});
    }));
  } else if (!picked.room) {
    main = make("div", {"class": "keys wide"}, found.map(function (one) { return one.room; }).filter(function (room, at, rooms) {
      return rooms.indexOf(room) === at;
    }).map(function (room) { return tap(apart(room), function () { picked = {pressed: picked.pressed, room: room}; draw(); }, {key: room}); }));
  } else {
    main = make("div", {"class": "keys wide"}, found.filter(function (one) { return one.room === picked.room; }).map(function (one) {
      var test = extra(picked.pressed, one.id);
      return tap([make("strong", {}, nameOf(test)), make("span", {"class": "spot"}, spotOf(one.id))], function () {
        openTest(test.key);
      }, {key: one.id});
    }));
  }
  return {name: "other " + (picked.pressed || "") + " " + (picked.room || ""), top: head(DATA.title, log.by),
    main: [heading(tell("other.title")), picked.room ? make("h2", {"class": "room", dir: "auto"}, picked.room) : null, main],
    bar: [tap(tell("back"), function () { if (picked.room) { picked = {pressed: picked.pressed}; draw(); } else if (picked.pressed) { picked = {}; draw(); } else { go("list"); } }, {key: "back"})]};
}

/* A test that was saved: what its row says, and how it is put right. */
function rowScreen() {
  var test = testOf(picked), rows = rowsOfTest(picked), row = rows[rows.length - 1];
  return {name: "row " + picked, top: head(DATA.title, log.by), main: [
    heading(nameOf(test)), para("at", whereOf(test, placeOf)),
    make("dl", {}, DATA.columns.map(function (name, at) {
      return row.cells[at] && name !== "page" ? [make("dt", {}, tell("column." + name)), make("dd", {dir: "auto"}, row.cells[at])] : null;
    })),
    para("", tell(row.filed ? "row.filed" : "row.not_filed"))
  ], bar: [tap(tell("to_list"), function () { go("list"); }, {key: "back"}),
    tap(tell(row.filed ? "row.over" : "row.change"), function () {
      if (row.filed) { openTest(row.key); } else { undo(row); }
    }, {look: "main", key: "change"})]};
}

function fileName() { return DATA.job + "-taps-" + stampOf(now()).replace(" ", "-").replace(/:/g, "") + ".csv"; }
function sendScreen() {
  var text = fileOfTaps(log.rows, log.places), name = fileName(), rows = log.rows.slice();
  function asked(how) { return function () { sent = {how: how, rows: rows, file: name}; draw(); }; }
  function answer(filed) {
    return function () {
      if (filed) { sent.rows.forEach(function (row) { row.filed = true; }); banner = null; }
      sent = null;
      go(filed ? "list" : "send");
    };
  }
  if (sent && sent.how !== "text") {
    return {name: "send asked", top: head(DATA.title, log.by), main: [heading(tell("send.there")), para("", tell("send.look", {file: sent.file}))],
      bar: [tap(tell("send.no"), answer(false), {key: "no"}), tap(tell("send.yes"), answer(true), {look: "main", key: "yes"})]};
  }
  return {name: sent ? "send text" : "send", top: head(DATA.title, log.by), main: [
    heading(tell(log.rows.length ? "send.title" : "send.empty")),
    log.rows.length ? para("", tell("send.says", {all: log.rows.length, rows: notFiled()})) : null,
    log.rows.length && !sent ? make("div", {"class": "keys wide"},
      canShare(name, text) ? tap(tell("send.share"), function () { shareFile(name, text, asked("share")); }, {key: "share"}) : null,
      tap(tell("send.save"), function () { saveFile(name, text); asked("save")(); }, {look: "main", key: "save"}),
      tap(tell("send.text"), function () { sent = {how: "text", rows: rows}; draw(); }, {key: "text"})) : null,
    log.rows.length && !sent ? para("quiet", tell("send.then", {command: make("code", {}, ["sitegen", "enter", "JOB", name].map(function (word) {
      return [" ", make("span", {"class": "id"}, word)];
    }))})) : null,
    sent ? [make("label", {"for": "text"}, tell("send.copy")), make("textarea", {id: "text", readonly: true, rows: 9, spellcheck: "false"}, text),
      tap(tell("send.select"), function () { document.getElementById("text").focus(); document.getElementById("text").select(); }, {key: "select"})] : null
  ], bar: [tap(tell("to_list"), function () { sent = null; go("list"); }, {key: "back"}),
    sent ? tap(tell("send.taken"), answer(true), {look: "main", key: "taken"}) : null]};
}
function twiceScreen() {
  return {top: head(DATA.title, ""), main: [heading(tell("twice.title")), para("", tell("twice.says"))],
    bar: [tap(tell("twice.here"), function () {
      var latest = storeLatest();
      if (latest) { log = latest; }
      storeKeep(log, true);
      at = log.open ? "test" : "list";
      draw();
    }, {look: "main", key: "here"})]};
}
