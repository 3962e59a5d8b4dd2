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
    main: [store.full || store.state === "none" ? storeLine() : null, bannerOf(), heading(nameOf(test)), test.open ? null : para("at", whereOf(test, placeOf)),
      ask === "rest" || ask === "gaps" ? null : chips(test, draft, set), parts.main],
    bar: parts.bar || [tap(tell("to_list"), leaveTest, {key: "back"})]};
}

/* The answers so far. */
function chips(test, draft, set) {
  var list = [];
  function chip(says, changes, key) { list.push(tap(says, function () { set(changes); }, {look: "chip", key: key, label: undefined})); }
  var press = pressedBy(test, draft), unkept = draft.kept.filter(function (one) { return one.split(" ")[0] !== test.outlet; });
  if (draft.wiring !== null) { chip(draft.wiring ? apart(draft.wiring) : tell("wiring.dark"), {wiring: null, typing: null}, "chip wiring"); }
  if (draft.volts !== null && draft.wiring !== "") { chip(draft.volts ? tell("volts.chip", {volts: draft.volts}) : tell("volts.not"), {volts: null, whole: null, typing: null}, "chip volts"); }
  if (draft.volts === null && draft.whole !== null) { chip(tell("volts.chip", {volts: draft.whole}), {whole: null, typing: null}, "chip whole"); }
  if (draft.opened !== null && !draft.more && press !== "none" && !test.open) {
    chip(draft.opened.length ? tell("opened.chip", {ids: draft.opened.join(" ")}) : tell(test.pressed === "breaker" ? "opened.off" : "opened.none"),
      {opened: null, left: null, typing: null, kept: []}, "chip opened");
  }
  if (draft.walked) { chip(tell("round.chip", {ids: draft.opened.join(" ")}), {walked: false, kept: []}, "chip round"); }
  if (draft.left !== null && press === "tester") { chip(leftSays(test, draft.left), {left: null, typing: null, kept: unkept}, "chip left"); }
  if (draft.rested.length) { chip(tell("rest.chip", {count: draft.rested.length}), {seen: without(draft.seen, draft.rested), rested: []}, "chip rest"); }
  return list.length ? make("div", {"class": "chips"}, list) : null;
}
/* What was seen, but for these. */
function without(seen, ids) {
  var left = {};
  Object.keys(seen).forEach(function (id) { if (!has(ids, id)) { left[id] = seen[id]; } });
  return left;
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
  function id(one) { return tap([make("strong", {}, apart(one)), make("span", {"class": "spot"}, OPENER[one].space ? tell("opened.space", {space: OPENER[one].space}) : spotOf(one))],
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

/* A round: everything on it opened, one after the other; and what opened though nobody pressed it. */
function roundPart(test, draft, set) {
  var done = draft.opened || [], every = test.open.concat(DATA.openers.map(function (one) { return one.id; }).filter(function (id) { return !has(test.open, id); }));
  var planned = test.open.filter(function (id) { return has(done, id); }).length;
  function line(id) {
    var own = has(test.own, id) || !has(test.open, id), on = has(done, id), space = OPENER[id].space;
    var name = !has(test.open, id) ? "round.unpressed" : own ? space ? "test.device_breaker" : "test.device" : "test.breaker_breaker";
    return make("li", {}, make("div", {"class": "outlet"}, make("strong", {}, tell(name, {id: id, space: space})), make("span", {"class": "spot"}, placeOf(id)),
      has(test.own, id) && !space ? make("span", {"class": "spot"}, tell("round.seen")) : null),
    make("div", {"class": "pair"}, tap(tell(own ? "round.opened" : "round.off"), function () {
      set({opened: every.filter(function (one) { return one === id ? !on : has(done, one); })});
    }, {key: "r " + id, down: on, look: "dead"})));
  }
  return {main: [asking("round.ask"), para("quiet", tell("round.how")), make("ul", {"class": "outlets"},
    every.filter(function (id) { return has(test.open, id) || has(done, id) || draft.typing === "openers"; }).map(line)),
  draft.typing === "openers" ? null : make("div", {"class": "keys wide"}, tap(tell("round.itself"), function () { set({typing: "openers"}); }, {key: "itself"}))],
  bar: [tap(tell("to_list"), leaveTest, {key: "back"}),
    planned ? tap(tell(planned === test.open.length ? "round.walk" : "round.part", {count: planned, of: test.open.length}), function () {
      set({walked: true, typing: null});
    }, {look: "main", key: "walk"}) : null]};
}
