/* One test, one question a screen: the answers stand above as keys that open their question again. */
var VOLTS = [117, 118, 119, 120, 121, 122, 123, 124, 125, 126], LEFT = ["0", "0.1", "0.2", "0.3", "0.4"];
var WIRING = ["correct", "open ground", "open neutral", "open hot", "hot/neutral reversed", "hot/ground reversed"];

function testScreen() {
  var test = testOf(log.open), draft = log.drafts[test.key], asks = question(test, draft);
  var ask = draft.rest ? "rest" : draft.gaps ? "gaps" : draft.noreset ? "noreset" : draft.atodds ? "odd" : asks;
  function set(changes) {
    Object.keys(changes).forEach(function (name) { draft[name] = changes[name]; });
    banner = null;
    keep();
    draw();
  }
  var parts = {wiring: wiringPart, volts: voltsPart, opened: openedPart, left: leftPart, round: roundPart, looks: looksPart, rest: restPart, gaps: gapsPart,
    noreset: noResetPart, odd: oddPart}[ask](test, draft, set);
  var number = DATA.tests.indexOf(test) + 1;
  return {name: "test " + ask + " " + test.key + " " + (draft.rest || ""),
    top: head(number ? plain("test.of", {number: number, count: DATA.tests.length}) : plain("test.extra", {}), plain("test.left", {count: toDo().length})),
    main: [store.full || store.state === "none" ? storeLine() : null, bannerOf(), heading(nameOf(test)), para("at", test.open ? null : placeOf(test.outlet)),
      ask === "rest" || ask === "gaps" ? null : chips(test, draft, set), parts.main],
    bar: parts.bar || [tap(tell("back"), leaveTest, {key: "back"})]};
}

/* The answers so far. */
function chips(test, draft, set) {
  var list = [];
  function chip(says, changes, key) { list.push(tap(says, function () { set(changes); }, {look: "chip", key: key, label: undefined})); }
  var press = pressedBy(test, draft), unkept = draft.kept.filter(function (one) { return one.split(" ")[0] !== test.outlet; });
  if (draft.wiring !== null) { chip(draft.wiring ? apart(draft.wiring) : tell("wiring.dark"), {wiring: null, typing: null}, "chip wiring"); }
  if (draft.volts !== null && draft.wiring !== "") { chip(draft.volts ? tell("volts.chip", {volts: draft.volts}) : tell("volts.not"), {volts: null, whole: null, typing: null}, "chip volts"); }
  if (draft.opened !== null && !draft.more && press !== "none" && !test.open) {
    chip(draft.opened.length ? tell("opened.chip", {ids: draft.opened.join(" ")}) : tell(test.pressed === "breaker" ? "opened.off" : "opened.none"),
      {opened: null, left: null, typing: null, kept: []}, "chip opened");
  }
  if (draft.walked) { chip(tell("round.chip", {ids: draft.opened.join(" ")}), {walked: false, kept: []}, "chip round"); }
  if (draft.left !== null && press === "tester") { chip(leftSays(test, draft.left), {left: null, typing: null, kept: unkept}, "chip left"); }
  return list.length ? make("div", {"class": "chips"}, list) : null;
}
function leftSays(test, left) {
  return tell(left.dead ? left.volts === "" ? "left.chip_dead" : "left.chip_dead_volts" : left.volts === "" ? "left.chip_live" : "left.chip_live_volts",
    {id: test.outlet, volts: left.volts});
}
function asking(name, values) { return make("h2", {"class": "ask"}, tell(name, values)); }
function keysOf(items, look) { return make("div", {"class": "keys " + (look || "")}, items); }

function wiringPart(test, draft, set) {
  return {main: [asking(test.pressed === "tester" ? "wiring.ask_before" : "wiring.ask"),
    keysOf(WIRING.map(function (word) { return tap(word, function () { set({wiring: word}); }, {key: word, look: word === "correct" ? "span" : ""}); }).concat([
      tap(tell("wiring.dark"), function () { set({wiring: "", volts: null}); }, {key: "dark"}),
      tap(tell("wiring.other"), function () { set({typing: "wiring"}); focusOn("typed"); }, {key: "else"})])),
    draft.typing === "wiring" ? typed("typed", "wiring.type", "", function (text) { set({wiring: text.replace(/,/g, " "), typing: null}); }) : null]};
}
function notPressed(test, draft) {
  return test.pressed === "tester" && pressedBy(test, draft) === "none" ? make("div", {"class": "odd"}, para("", tell("wiring.stop"))) : null;
}
function voltsPart(test, draft, set) {
  var whole = draft.whole;
  return {main: [notPressed(test, draft), asking(whole === null ? "volts.ask" : "volts.tenth", {volts: whole}),
    whole === null ? keysOf(VOLTS.map(function (volts) { return tap(volts, function () { set({whole: volts}); }, {key: "v" + volts}); }), "five") :
      keysOf([0, 1, 2, 3, 4, 5, 6, 7, 8, 9].map(function (tenth) {
        return tap("." + tenth, function () { set({volts: tenth ? whole + "." + tenth : String(whole)}); }, {key: "t" + tenth, label: whole + "." + tenth});
      }), "five"),
    keysOf([tap(tell("volts.other"), function () { set({typing: "volts", whole: null}); focusOn("typed"); }, {key: "other"}),
      tap(tell("volts.not"), function () { set({volts: ""}); }, {key: "not"})]),
    draft.typing === "volts" ? typed("typed", "volts.type", "", function (text) { number(text, function (volts) { set({volts: volts, typing: null}); }); }, "decimal") : null]};
}
/* A typed figure, or what is wrong with it. */
function number(text, take) {
  var figure = text.replace(",", ".");
  if (/^\d{1,3}(\.\d{1,2})?$/.test(figure)) { take(String(Number(figure))); } else { status(plain("volts.wrong", {})); }
}

function openedPart(test, draft, set) {
  var near = openersNear(test.outlet).filter(function (id) { return test.pressed !== "breaker" || id !== test.outlet; }), picked = draft.opened || [], several = draft.more;
  function id(one) { return tap([make("strong", {}, apart(one)), make("span", {"class": "spot"}, OPENER[one].space ? tell("opened.breaker", {space: OPENER[one].space}) : spotOf(one))],
    function () {
      if (!several) { set({opened: [one], more: false}); return; }
      var on = has(picked, one);
      set({opened: DATA.openers.map(function (opener) { return opener.id; }).filter(function (other) { return other === one ? !on : has(picked, other); })});
    }, {key: "o " + one, down: several ? has(picked, one) : undefined}); }
  var listed = draft.typing === "openers" ? DATA.openers.map(function (one) { return one.id; }) : near;
  return {main: [asking(several ? "opened.several" : "opened." + test.pressed),
    keysOf(listed.map(id), "even"),
    several ? null : keysOf([tap(tell("opened.nothing"), function () { set({opened: [], more: false}); }, {key: "nothing"}),
      tap(tell("opened.two"), function () { set({opened: [], more: true}); }, {key: "two"})]),
    draft.typing === "openers" ? null : keysOf([tap(tell("opened.another"), function () { set({typing: "openers"}); }, {key: "another"})])],
    bar: several ? [tap(tell("back"), function () { set({opened: null, more: false}); }, {key: "back"}),
      picked.length < 2 ? null : tap(tell("opened.those", {count: picked.length}), function () { set({more: false, typing: null}); }, {look: "main", key: "those"})] : null};
}
function leftPart(test, draft, set) {
  var own = apart(test.outlet), typing = draft.typing && draft.typing.slice(0, 5) === "left ";
  return {main: [asking("left.ask", {id: test.outlet}), make("h3", {}, tell("left.volts")),
    keysOf(LEFT.map(function (volts) {
      return tap(volts, function () { set({left: {dead: true, volts: volts}}); }, {key: "l" + volts, label: plain("left.chip_dead_volts", {id: test.outlet, volts: volts})});
    }), "five"),
    keysOf([tap(tell("left.dead"), function () { set({left: {dead: true, volts: ""}}); }, {key: "dead"}),
      tap(tell("left.live"), function () { set({left: {dead: false, volts: ""}}); }, {key: "live"}),
      tap(tell("left.other"), function () { set({typing: "left "}); focusOn("typed"); }, {key: "other", look: "span"})]),
    typing && draft.typing === "left " ? typed("typed", "volts.type", "", function (text) { number(text, function (volts) { set({typing: "left " + volts}); }); }, "decimal") : null,
    typing && draft.typing !== "left " ? [asking("left.which", {id: own, volts: draft.typing.slice(5)}), keysOf([
      tap(tell("dead"), function () { set({left: {dead: true, volts: draft.typing.slice(5)}, typing: null}); }, {key: "typed dead", look: "dead"}),
      tap(tell("live"), function () { set({left: {dead: false, volts: draft.typing.slice(5)}, typing: null}); }, {key: "typed live", look: "live"})])] : null]};
}

/* A round: everything on it opened, one after the other. */
function roundPart(test, draft, set) {
  var done = draft.opened || [];
  return {main: [asking("round.ask"), para("quiet", tell("round.how")), make("ul", {"class": "outlets"}, test.open.map(function (id) {
    var own = has(test.own, id), on = has(done, id), space = OPENER[id].space;
    return make("li", {}, make("div", {"class": "outlet"}, make("strong", {}, tell(own ? space ? "test.device_breaker" : "test.device" : "test.breaker_breaker", {id: id, space: space})),
      make("span", {"class": "spot"}, placeOf(id)), own && !space ? make("span", {"class": "spot"}, tell("round.seen")) : null),
    make("div", {"class": "pair"}, tap(tell(own ? "round.opened" : "round.off"), function () {
      set({opened: test.open.filter(function (one) { return one === id ? !on : has(done, one); })});
    }, {key: "r " + id, down: on, look: "dead"})));
  }))], bar: [tap(tell("back"), leaveTest, {key: "back"}),
    done.length ? tap(tell(done.length === test.open.length ? "round.walk" : "round.part", {count: done.length, of: test.open.length}), function () { set({walked: true}); },
      {look: "main", key: "walk"}) : null]};
}

function looksPart(test, draft, set) {
  var seen = seenIn(test, draft), own = pressedBy(test, draft), asked = test.looks.slice(), parts = [];
  if (!asked.length && isOutlet(test.outlet) && own === "none" && !seen[test.outlet]) { asked = [test.outlet]; }
  if (own === "tester" || own === "none" && test.part !== "last") { asked = asked.filter(function (id) { return id !== test.outlet || !(draft.left || Number(draft.volts)); }); }
  var rest = onCircuit(test.outlet.split(" ")[0]), circuit = !test.open && test.part !== "last";
  if (asked.length) { parts.push(asking("looks.ask"), outletsOf(asked, test, draft, set, true)); }
  parts.push(asking(asked.length ? "looks.rest" : "looks.more"), keysOf([
    circuit && restOf(test, draft, "circuit").length ? tap(tell("looks.circuit"), function () { set({rest: "circuit"}); }, {key: "circuit"}) : null,
    restOf(test, draft, "house").length ? tap(tell("looks.house"), function () { set({rest: "house"}); }, {key: "house"}) : null]));
  var others = DATA.outlets.filter(function (outlet) { return !has(asked, outlet.id) && outlet.id !== test.outlet; });
  parts.push(make("div", {"class": "keys wide"}, DATA.rooms.map(function (room) {
    var here = others.filter(function (outlet) { return outlet.room === room; }), open = has(draft.rooms, room);
    var count = here.filter(function (outlet) { return seen[outlet.id]; }).length;
    if (!here.length) { return null; }
    return [make("button", {type: "button", "class": "roomkey", "aria-expanded": String(open), "data-key": "room " + room, on: function () {
      set({rooms: open ? draft.rooms.filter(function (one) { return one !== room; }) : draft.rooms.concat([room])});
    }}, apart(room), count ? [" · ", tell("looks.count", {count: count})] : null),
      open ? outletsOf(here.map(function (outlet) { return outlet.id; }), test, draft, set, false) : null];
  })));
  parts.push(extraKeys(draft, set));
  return {main: parts, bar: saveBar(test, draft, set)};
}
/* Outlets with DEAD and LIVE; what is at odds is told at once, below its outlet. In a long list a room can be closed with one question. */
function outletsOf(ids, test, draft, set, headed) {
  var seen = seenIn(test, draft), found = odds(test, draft), row = rowOf(test, draft), here = "", whole = test.open || test.part === "last", made = [];
  ids.forEach(function (id, at) {
    var outlet = OUTLET[id], odd = found.filter(function (one) { return one[0] === id && (one[1] === "dead" || one[1] === "live"); })[0];
    function key(what) {
      return tap(tell(what), function () {
        var next = {};
        Object.keys(draft.seen).forEach(function (one) { if (one !== id) { next[one] = draft.seen[one]; } });
        if (draft.seen[id] !== what) { next[id] = what; }
        set({seen: next, kept: draft.kept.filter(function (one) { return one.split(" ")[0] !== id; })});
      }, {key: what + " " + id, down: seen[id] === what, look: what, label: plain("looks." + what, {id: id})});
    }
    if (headed && outlet.room !== here) { made.push(make("li", {"class": "room", dir: "auto"}, outlet.room)); here = outlet.room; }
    made.push(make("li", {}, make("div", {"class": "outlet"}, make("strong", {}, apart(id)), make("span", {"class": "spot"}, spotOf(id)),
      outlet["switch"].length ? make("span", {"class": "spot"}, tell("looks.switch", {ids: outlet["switch"].join(" ")})) : null,
      draft.kept.some(function (one) { return one.split(" ")[0] === id; }) ? make("em", {}, tell("odd.kept")) : null),
    make("div", {"class": "pair"}, key("dead"), key("live"))), odd ? make("li", {}, oddPanel(odd, row, draft, set)) : null);
    if (whole && headed && (at + 1 === ids.length || OUTLET[ids[at + 1]].room !== here) && restOf(test, draft, "room:" + here).length) {
      made.push(make("li", {"class": "keys"}, (function (room) {
        return tap(tell("looks.room", {room: room}), function () { set({rest: "room:" + room}); }, {key: "rest " + room});
      }(here))));
    }
  });
  return make("ul", {"class": "outlets"}, made);
}
/* What is at odds, in words, with two keys of equal weight. */
function oddPanel(odd, row, draft, set) {
  var open = opened(row), by = before(DATA.map, odd[0]), list = has(["own test", "tester opened"], odd[1]) ? row.tripped : open;
  var means = !by.length ? "nothing" : odd[1] === "dead" ? "dead" : odd[1] === "live" ? "live" : odd[1] === "no trip" ? "guards" : "by";
  var name = {"dead": "odd.dead", "live": "odd.live", "tester opened": "odd.tester", "no trip": "odd.none", "own test": row.tripped.length ? "odd.own" : "odd.own_none",
    "volts": "odd.volts"}[odd[1]];
  return make("div", {"class": "odd", role: "group"}, para("", [tell(open.length || odd[1] !== "dead" ? name : "odd.dead_closed",
    {id: odd[0], open: list.join(" "), volts: String(row.left)}), " ",
    odd[1] === "own test" || odd[1] === "volts" ? null : tell("odd.map_" + means, {id: odd[0], open: open.join(" "), by: (odd[1] === "no trip" ? DATA.map.guards[odd[0]] : by).join(plain("odd.or", {}))})]),
  keysOf([tap(tell("odd.again"), function () { lookAgain(odd, row, draft, set); }, {key: "again " + odd[0]}),
    tap(tell("odd.keep"), function () { set({kept: draft.kept.concat([odd.join(" ")])}); }, {key: "keep " + odd[0]})], "even"));
}
function lookAgain(odd, row, draft, set) {
  var seen = {};
  Object.keys(draft.seen).forEach(function (id) { if (id !== odd[0]) { seen[id] = draft.seen[id]; } });
  if (has(["tester opened", "no trip", "own test"], odd[1])) { set({opened: null, left: null, kept: [], atodds: false}); }
  else if (row.pressed === "tester" && odd[0] === row.outlet) { set({left: null, atodds: false}); }
  else { set({seen: seen, atodds: false}); }
}
function oddPart(test, draft, set) {
  var found = odds(test, draft), answers = oddAnswers(test, draft);
  return {main: [asking("odd.title"), oddPanel((answers.length ? answers : found)[0], rowOf(test, draft), draft, function (changes) {
    if (changes.kept && draft.atodds && found.length === 1) { changes.atodds = false; }
    set(changes);
  })]};
}

function restPart(test, draft, set) {
  var which = draft.rest, rest = restOf(test, draft, which), seen = seenIn(test, draft), room = which.slice(5);
  var here = DATA.outlets.filter(function (outlet) { return which === "house" || (which === "circuit" ? has(onCircuit(test.outlet), outlet.id) : outlet.room === room); });
  var away = here.filter(function (outlet) { return outlet.apart && !seen[outlet.id]; });
  return {main: [asking(rest.length === 1 ? "rest.one" : "rest.ask", {count: rest.length}), make("div", {"class": "names"}, DATA.rooms.map(function (name) {
    var ids = rest.filter(function (outlet) { return outlet.room === name; }).map(function (outlet) { return outlet.id; });
    return ids.length ? make("p", {dir: "auto"}, make("strong", {}, apart(name)), ids.map(function (id) { return [" ", make("bdi", {"class": "id"}, id)]; })) : null;
  })), para("quiet", tell("rest.lights")), para("quiet", tell("rest.dead")), away.length ? para("quiet", tell("rest.away", {ids: away.map(function (one) { return one.id; }).join(" ")})) : null],
  bar: [tap(tell("no"), function () { set({rest: null}); }, {key: "no"}),
    tap(tell(rest.length === 1 ? "rest.yes_one" : "rest.yes", {count: rest.length}), function () {
      var next = {};
      Object.keys(draft.seen).forEach(function (id) { next[id] = draft.seen[id]; });
      rest.forEach(function (outlet) { next[outlet.id] = "live"; });
      set({seen: next, rest: null});
    }, {look: "main", key: "yes"})]};
}
function gapsPart(test, draft, set) {
  return {main: [asking("gaps.ask"), make("p", {"class": "names"}, gapsIn(test, draft).map(function (id) { return [make("bdi", {"class": "id"}, id), " "]; })),
    para("", tell("gaps.says"))],
    bar: [tap(tell("gaps.save"), function () { draft.gaps = false; saveTest(test, draft); }, {key: "save gaps"}),
      tap(tell("gaps.on"), function () { set({gaps: false, reset: null}); }, {look: "main", key: "go on"})]};
}
function noResetPart(test, draft, set) {
  return {main: [asking("reset.ask"), para("", tell("reset.says"))],
    bar: [tap(tell("reset.holds"), function () { set({noreset: false}); }, {key: "it holds"}),
      tap(tell("reset.sure"), function () { draft.noreset = false; trySave(test, draft, set, "no"); }, {look: "stop", key: "sure"})]};
}

/* A note, and the time of a photo. */
function extraKeys(draft, set) {
  return make("div", {"class": "more"}, make("label", {"for": "note"}, tell("note.label")),
    make("textarea", {id: "note", rows: 2, dir: "auto", "data-key": "note", input: function (event) { draft.note = event.target.value; keep(); }}, draft.note),
    tap(tell(draft.photo ? "note.taken" : "note.photo", {time: draft.photo}), function () { set({photo: draft.photo ? "" : stampOf(now()).slice(11)}); },
      {key: "photo", down: Boolean(draft.photo)}));
}
function saveBar(test, draft, set) {
  var row = rowOf(test, draft), opens = opened(row).length > 0;
  var name = !opens ? "save.plain" : test.open ? "save.round" : row.pressed === "breaker" ? "save.breaker" : "save.reset";
  return [tap(tell("back"), leaveTest, {key: "back"}),
    opens ? tap(tell(test.open ? "reset.not_all" : row.pressed === "breaker" ? "reset.off" : "reset.no"), function () { set({noreset: true}); }, {look: "stop", key: "no reset"}) : null,
    tap(tell(name), function () { trySave(test, draft, set, opens ? "yes" : null); }, {look: "main", key: "save"})];
}
function trySave(test, draft, set, reset) {
  if (odds(test, draft).length) { set({reset: reset, atodds: true}); return; }
  draft.reset = reset;
  if (gapsIn(test, draft).length) { set({gaps: true}); return; }
  saveTest(test, draft);
}
