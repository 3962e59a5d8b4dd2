/* The screens: start, the map, one question, one thing, send, open twice. */
var at = "start", more = "", sent = false;
function keep() { storeKeep(house, false); }
function go(screen) {
  at = screen;
  more = "";
  if (at !== "map") { undone = ""; }
  if ((at === "map" || at === "thing") && !house.open && unsided()) { askSide(unsided()); at = "ask"; }
  keep();
  draw();
}
function draw() {
  var screens = {start: startScreen, map: mapScreen, ask: askScreen, thing: thingScreen, send: sendScreen};
  var screen = store.taken ? twiceScreen() : screens[at]();
  show(store.taken ? "twice" : screen.name || at, screen);
  var field = document.querySelector("[data-alone]");    /* a screen on which there is nothing but to type */
  if (field) { field.focus(); }
}
function keys(look, list) { return make("div", {"class": "keys " + look}, list); }
function count() { return house.points.length; }
function counted() { return tell(count() === 1 ? "map.one" : count() ? "map.some" : "map.none", {count: count()}); }

/* A text to type, with its own key; what is wrong with it is said and kept in the field. */
function typed(name, label, value, draft, take) {
  var field = make("input", {type: "text", id: "typed", value: value, dir: "auto", autocomplete: "off", autocapitalize: name === "id" ? "characters" : "sentences",
    inputmode: name === "size" ? "numeric" : "text", "aria-describedby": "bad", "data-alone": label.slice(0, 5) === "fact."}), bad = make("p", {id: "bad", "class": "warn", role: "alert"});
  function done() {
    var text = oneLine(field.value), problem = text ? wrong(name, text, draft) : null;
    bad.textContent = "";
    if (problem) { add(bad, [problem]); field.setAttribute("aria-invalid", "true"); field.focus(); }
    else if (text) { take(name === "id" ? text.toUpperCase() : text); }
  }
  field.addEventListener("keydown", function (event) { if (event.key === "Enter") { done(); } });
  return make("div", {"class": "field"}, make("label", {"for": "typed"}, tell(label)), field, tap(tell("take"), done, {key: "take"}), bad);
}

function startScreen() {
  return {top: head(DATA.job), main: [
    heading(tell("title")), para("", tell("start.says")),
    store.spoilt !== null ? para("odd", tell("start.spoilt")) : null,
    para("keeps " + store.state, tell("start." + (store.full ? "full" : store.state))),
    make("ul", {}, DATA.words.start.safety.map(function (text, line) { return make("li", {}, tell("start.safety." + line)); }))
  ], bar: [tap(tell(house.panels.length ? "start.on" : "start.go"), function () {
    if (house.open) { go("ask"); } else if (!house.panels.length) { askPanel(""); } else { go(house.on ? "thing" : "map"); }
  }, {look: "main", key: "go"})]};
}
function twiceScreen() {
  return {top: head(DATA.job), main: [heading(tell("title")), para("odd", tell("twice"))],
    bar: [tap(tell("twice_go"), function () {
      house = storeLatest() || house;
      storeKeep(house, true);
      behind = [];
      at = "start";
      draw();
    }, {look: "main", key: "twice"})]};
}
function storeLine() {
  return store.state === "kept" && !store.full ? null : para("keeps " + store.state, tell("keeps." + (store.full ? "full" : store.state)));
}

/* What a thing is called on a key: its id, what it is, where. */
function kindName(name) { return name.replace(/\b(gfci|afci|gfpe)\b/g, function (word) { return word.toUpperCase(); }); }
function capital(text) { return text.charAt(0).toUpperCase() + text.slice(1); }
function named(point) { return [make("strong", {}, apart(point.id)), " ", kindName(point.is)]; }
function placed(point) { return make("span", {"class": "spot"}, apart(point.room), ", ", apart(point.at)); }
function fedBy(point) {
  return point.from === "unknown" ? tell("map.unknown") : [apart(point.from), point.side ? [" ", point.side.toUpperCase()] : null];
}
function sized(breaker) { return [kindName(breaker.type), " ", breaker.amps, " A", breaker.poles === "2" ? [", ", tell("poles.two")] : null]; }

function mapScreen() {
  house.on = null;
  var last = house.last && (pointOf(house.last) || breakerOf(house.last));
  return {top: head(DATA.job), main: [
    heading(counted()), storeLine(), undone ? make("div", {"class": "said"}, para("", tell("map.undone", {ids: undone}))) : null,
    behind.length ? keys("wide", tap(undoes(), undo, {key: "undo"})) : null,
    house.panels.map(function (panel) {
      return [make("h2", {}, thingKey("panel", panel.id, "fact", make("span", {}, tell("map.panel", {id: panel.id, at: panel.at})))),
        house.breakers.filter(function (one) { return one.panel === panel.id; }).map(function (breaker) {
          return circuitsOn(breaker.id).map(function (circuit) { return circuitList(breaker, circuit); });
        })];
    }),
    house.panels.length && !house.breakers.length ? null : keys("", tap(tell("map.add_panel"), function () { askPanel(""); }, {key: "panel"}))
  ], bar: [
    tap(tell("map.send"), function () { sent = false; go("send"); }, {key: "send"}),
    tap(tell("map.add_breaker"), askBreaker, {key: "breaker"}),
    last ? nextKey(last) : house.breakers.length ? tap(tell("point.elsewhere"), function () { askPoint(null, null); }, {look: "main", key: "next"}) : null]};
}
function circuitList(breaker, circuit) {
  var found = feedOrder(circuit), number = circuit.number === breaker.space ? null : [" · ", tell("map.circuit", {number: circuit.number})];
  return [thingKey("breaker", breaker.id, "circuit", [make("strong", {}, tell("breaker.title", {space: breaker.space}), number),
    make("span", {"class": "spot"}, breaker.id, " · ", sized(breaker), circuit.serves ? [" · ", apart(circuit.serves)] : null)]),
  found.length ? make("ol", {"class": "run"}, found.map(function (one) {
    return make("li", {"class": "deep" + Math.min(one.deep, 4)}, thingKey("point", one.point.id, "",
      [make("span", {"class": "line"}, make("span", {}, named(one.point)), make("span", {"class": "fed"}, one.point.from === "unknown" ? fedBy(one.point) : tell("from", {source: make("span", {}, fedBy(one.point))}))), placed(one.point)]));
  })) : para("quiet", tell("map.empty"))];
}
function thingKey(what, id, look, says) {
  return tap(says, function () { showThing(what, id, false, ""); }, {look: "thing " + look, key: what + " " + id});
}
/* On from here: what hangs on the thing that was entered last. */
function nextKey(thing) {
  var breaker = breakerOf(thing.id), circuits = breaker ? circuitsOn(breaker.id) : [];
  return tap(breaker ? tell(hangOn(breaker.id).length ? "breaker.more" : "breaker.first", {id: breaker.id}) : tell("point.next", {id: thing.id}), function () {
    if (breaker && circuits.length > 1) { askPoint(null, circuits[circuits.length - 1].key); } else { askPoint(thing.id, breaker ? circuits[0].key : thing.circuit); }
  }, {look: "main", key: "next"});
}

/* One question in the upper third, its keys below; what was answered stays as chips that open it again. */
function askScreen() {
  var draft = house.open, name = question(draft), source = draft.from;
  var made = {from: fromKeys, side: sideKeys, is: isKeys, space: spaceKeys, size: sizeKeys, type: typeKeys, on: panelKeys}[name];
  var about = draft.what === "change" ? draft.of === "circuit" ? onCircuit({circuit: draft.thing}) : draft.thing : "";
  return {name: "ask " + draft.what + " " + name, top: head(DATA.job, about || draft.breaker || (draft.on || draft.circuit ? onCircuit(draft) : "")), main: [
    heading(tell("ask." + (name === "at" && (draft.what === "panel" || draft.of === "panel") ? "panel" : name), name === "side" ? {source: source} : {})),
    draft.forced ? para("odd", tell("map.open", {id: draft.thing, source: source})) : null,
    chips(draft, name),
    made ? made(draft, name) : textKeys(draft, name)
  ], bar: [tap(tell("back"), stepBack, {key: "back"}), draft.what === "change" || !house.breakers.length ? null :
    tap(tell("drop"), function () { house.open = null; go("map"); }, {key: "drop"})]};
}
function onCircuit(draft) {
  var circuit = circuitOf(draft.circuit);
  return circuit ? plain("breaker.title", {space: breakerOf(circuit.breaker).space}) : plain("map.panel", {id: draft.on, at: panelOf(draft.on).at});
}
function chips(draft, name) {
  var given = questions(draft).filter(function (one) { return one !== name && draft[one] !== null && draft[one] !== "" && draft.what !== "change"; });
  return given.length ? make("div", {"class": "chips"}, given.map(function (one) {
    return tap(shownAs(one, draft[one], draft), function () { unanswer(one); }, {look: "chip", key: "chip " + one,
      label: [plain("fact." + (one === "side" ? "from" : one)), make("p", {}, shownAs(one, draft[one], draft)).textContent].join(": ")});
  })) : null;
}
function shownAs(name, value, draft) {
  return name === "size" ? [value.amps, " A, ", tell(value.poles === "2" ? "poles.two" : "poles.one")] : name === "side" ? value.toUpperCase() :
    name === "space" ? tell("breaker.title", {space: draft.size ? spaceOf(value, draft.size.poles) : value}) : name === "from" ? tell("from", {source: value}) :
    name === "is" || name === "type" ? kindName(value) : apart(value);
}
function fromKeys(draft) {
  var here = circuitOf(draft.circuit) || circuitOf(house.last && pointOf(house.last) ? pointOf(house.last).circuit : "") || house.circuits[0];
  var not = draft.what === "change" ? below(draft.thing) : [], others = house.circuits.filter(function (one) { return one !== here; });
  function part(circuit) {
    var breaker = breakerOf(circuit.breaker);
    function take(id) { return function () { draft.circuit = circuit.key; answer("from", id); }; }
    return [make("h2", {}, tell("breaker.title", {space: breaker.space}), circuit.number === breaker.space ? null : [" · ", tell("map.circuit", {number: circuit.number})]),
      keys("wide", pointsOn(circuit.key).filter(function (one) { return not.indexOf(one.id) < 0; }).reverse().map(function (one) {
        return tap([make("span", {}, named(one)), placed(one)], take(one.id), {look: "thing", key: "from " + one.id});
      }).concat(tap([make("strong", {}, apart(breaker.id)), " ", sized(breaker)], take(breaker.id), {look: "thing", key: "from " + breaker.id + " " + circuit.key}),
        tap(tell("unknown"), take("unknown"), {look: "thing", key: "from unknown " + circuit.key})))];
  }
  return [part(here), others.length ? more === "others" ? others.map(part) : keys("wide", tap(tell("others"), function () { more = "others"; draw(); }, {key: "others"})) : null];
}
function sideKeys(draft) {
  return [para("quiet", tell("hint.side")), keys("equal", ["load", "line"].map(function (side) {
    return tap(tell("side." + side, {source: draft.from}), function () { answer("side", side); }, {key: side});
  })), keys("wide", tap(tell("unknown"), function () { draft.from = "unknown"; answer("side", ""); }, {key: "nobody"}))];
}
function isKeys() {
  return keys("two", DATA.kinds.map(function (kind) { return tap(capital(kindName(kind.name)), function () { answer("is", kind.name); }, {key: "is " + kind.name}); }));
}
function spaceKeys(draft) {
  var taken = takenSpaces(draft), numbers = [];
  for (var number = 1; number <= 42; number += 1) { numbers.push(String(number)); }
  return [keys("grid", numbers.map(function (one) {    /* a taken one keeps its place, so that no other moves */
    return taken.indexOf(one) < 0 ? tap(one, function () { answer("space", one); }, {key: "space " + one}) : make("s", {"class": "taken"}, one);
  })),
    typed("space", "hint.space_other", "", draft, function (text) { answer("space", text); })];
}
function sizeKeys(draft) {
  function part(poles, list) {
    return [make("h2", {}, tell("poles." + poles)), keys("amps", list.map(function (amps) {
      return tap(amps + " A", function () { answer("size", {amps: amps, poles: poles === "two" ? "2" : "1"}); }, {key: poles + " " + amps});
    }))];
  }
  var space = draft.what === "change" ? breakerOf(draft.thing).space.split("/")[0] : draft.space, other = spaceOf(space, "2").split("/")[1];
  var taken = other && takenSpaces(draft).indexOf(other) >= 0;
  return [part("one", DATA.words.amps.one), taken ? para("quiet", tell("bad.two", {space: other})) : part("two", DATA.words.amps.two),
    keys("", (taken ? ["one"] : ["one", "two"]).map(function (poles) { return tap([tell("hint.other"), ", ", tell("poles." + poles)], function () { more = poles; draw(); document.getElementById("typed").focus(); }, {key: "other " + poles}); })),
    more === "one" || more === "two" ? typed("size", "hint.number_other", "", draft, function (text) {
      answer("size", {amps: text, poles: more === "two" ? "2" : "1"});
    }) : null];
}
function typeKeys() {
  return keys("wide", DATA.types.map(function (type) {
    return tap([make("strong", {}, capital(kindName(type.name))), make("span", {"class": "spot"}, tell("type." + (type.guards ? "guards" : type.opens ? "test" : "plain")))],
      function () { answer("type", type.name); }, {key: "type " + type.name});
  }));
}
function panelKeys() {
  return keys("wide", house.panels.map(function (panel) {
    return tap(tell("map.panel", {id: panel.id, at: panel.at}), function () { answer("on", panel.id); }, {key: "on " + panel.id});
  }));
}
/* Texts: those of this house first, then usual ones, then one that is typed. */
function textKeys(draft, name) {
  var thing = draft.what === "change" ? thingOf(draft.of, draft.thing) : draft, list = offered(draft, name, thing);
  return [list.length ? keys("two", list.map(function (text) { return tap(apart(text), function () { answer(name, text); }, {key: name + " " + text}); })) : null,
    ["use", "note", "serves", "wire"].concat(DEVICE_FACTS).indexOf(name) >= 0 ? keys("", tap(tell("nobody"), function () { answer(name, ""); }, {key: "nobody"})) : null,
    name === "wire" ? null : typed(name, list.length ? "hint.typed" : "fact." + name, draft.what === "change" ? thing[name] || "" : "", draft, function (text) { answer(name, text); })];
}

/* A thing on the map; just entered or with a new id, it says what to write on the box. */
function showThing(what, id, fresh, was) {
  house.on = {what: what, id: id, fresh: fresh, was: was || ""};
  more = "";
  go("thing");
}
function thingScreen() {
  var on = house.on, thing = on && thingOf(on.what, on.id);
  if (!thing) { return mapScreen(); }
  return {panel: panelScreen, breaker: breakerScreen, point: pointScreen}[on.what](thing, on);
}
function panelScreen(panel) {
  return {name: "thing " + panel.id, top: head(DATA.job), main: [
    heading(tell("map.panel", {id: panel.id, at: panel.at})), facts("panel", panel.id, panel, ["at", "id"]),
    panel.from ? para("quiet", tell("from", {source: panel.from})) : null
  ], bar: [tap(tell("list"), function () { go("map"); }, {look: "main", key: "list"})]};
}
function facts(what, id, thing, list) {
  return make("ul", {"class": "facts"}, list.map(function (name) {
    var value = name === "from" ? fedBy(thing) : name === "is" || name === "type" ? kindName(thing[name]) : name === "size" ? [thing.amps, " A, ", tell(thing.poles === "2" ? "poles.two" : "poles.one")] : thing[name] ? apart(thing[name]) : null;
    return make("li", {}, tap([make("span", {"class": "what"}, tell("fact." + name)), make("span", {"class": value ? "is" : "is blank"}, value || tell("blank"))],
      function () { more = ""; askAgain(what, id, name); }, {look: "fact", key: "fact " + what + " " + name + " " + id}));
  }));
}
function removal(what, id) {
  var held = holds(what, id);
  if (more === "out" && held.length) { return para("odd", tell("point.hangs", {ids: held.join(" ")})); }
  return keys("", more === "out" ? tap(tell("point.sure"), function () { more = ""; takeOut(what, id); }, {look: "stop", key: "sure"}) :
    tap(tell("point.remove", {id: id}), function () { more = "out"; draw(); }, {key: "out"}));
}
function pointScreen(point, on) {
  var kind = kindOf(point.is), model = kind.opens ? house.points.filter(function (one) { return one.is === point.is && one.make && one !== point; }).pop() : null;
  var source = pointOf(point.from) || breakerOf(point.from);
  return {name: "thing " + point.id, top: head(DATA.job, onCircuit({circuit: point.circuit})), main: [
    heading(tell(on.fresh ? "point.write" : "point.title", {id: make("span", {"class": "tag"}, apart(point.id))})),
    on.was ? para("odd", tell("point.changed", {old: on.was, id: point.id})) : null,
    facts("point", point.id, point, ["is", "from", "room", "at", "id"]),
    keys("", [source ? tap(tell("point.branch", {source: source.id}), function () { askPoint(source.id, point.circuit); }, {key: "branch"}) : null,
      tap(tell("point.elsewhere"), function () { askPoint(null, point.circuit); }, {key: "elsewhere"}),
      more ? null : tap(tell(kind.opens ? "point.device" : "point.more", {id: point.id}), function () { more = "more"; draw(); }, {key: "more"})]),
    more ? [model ? keys("", tap(tell("point.same", {id: model.id}), function () {
      remember();
      DEVICE_FACTS.forEach(function (fact) { point[fact] = model[fact]; });
      go("thing");
    }, {key: "same"})) : null, facts("point", point.id, point, ["use", "note"].concat(kind.face || kind.sides ? DEVICE_FACTS : [])),
    removal("point", point.id)] : null
  ], bar: thingBar(on, point)};
}
function breakerScreen(breaker, on) {
  var panel = panelOf(breaker.panel), fed = house.panels.filter(function (one) { return one.from === breaker.id; })[0], circuits = circuitsOn(breaker.id);
  return {name: "thing " + breaker.id, top: head(DATA.job, plain("map.panel", {id: panel.id, at: panel.at})), main: [
    heading(tell(on.fresh ? "breaker.new" : "breaker.title", {space: breaker.space})),
    facts("breaker", breaker.id, breaker, ["type", "size", "space", "id"]),
    circuits.map(function (circuit) { return facts("circuit", circuit.key, circuit, ["number", "serves", "wire"]); }),
    fed ? para("", tell("breaker.fed", {id: fed.id})) : null,
    keys("", [tap(tell("breaker.another"), askBreaker, {key: "another"}),
      fed ? null : tap(tell("breaker.feeds"), function () { askPanel(breaker.id); }, {key: "feeds"}),
      tap(tell("breaker.second"), function () { ask({what: "circuit", breaker: breaker.id, number: null}); }, {key: "second"})]),
    removal("breaker", breaker.id)
  ], bar: thingBar(on, breaker)};
}
function thingBar(on, thing) {
  return [tap(tell("list"), function () { go("map"); }, {key: "list"}), on.fresh && behind.length ? tap(tell("undo"), undo, {key: "undo"}) : null, nextKey(thing)];
}

function sendScreen() {
  var name = DATA.job + "-points.csv", text = fileOfMap();
  function handed() { sent = true; draw(); }
  return {top: head(DATA.job), main: [
    heading(tell("send.title")),
    count() ? [para("", tell("send.says", {points: count(), circuits: house.circuits.length})),
      keys("wide", [canShare(name, text) ? tap(tell("send.share"), function () { shareFile(name, text, handed); }, {key: "share"}) : null,
        tap(tell("send.save"), function () { saveFile(name, text); handed(); }, {look: "main", key: "save"}),
        tap(tell("send.show"), function () { more = more === "text" ? "" : "text"; draw(); }, {key: "show", down: more === "text"})]),
      sent ? make("div", {"class": "said"}, para("", tell("send.saved"))) : null,
      more === "text" ? make("div", {"class": "field"}, make("label", {"for": "text"}, tell("send.text")), make("textarea", {id: "text", readonly: true, rows: 8}, text)) : null,
      para("quiet", tell("send.then", {command: make("code", {}, ("sitegen begin " + DATA.job + " --from " + name).split(" ").map(function (word) {
        return [" ", make("span", {"class": "id"}, word)];
      }))}))
    ] : para("", tell("send.nothing"))
  ], bar: [tap(tell("list"), function () { more = ""; go("map"); }, {look: "main", key: "list"})]};
}

storeOpen("rough " + DATA.job, sound, function (found) {
  house = found || newHouse();
  if (store.state === "kept" && (house.panels.length || house.open)) { at = house.open ? "ask" : house.on ? "thing" : "map"; }
  storeKeep(house, true);
  storeHear(draw);
  draw();
});
