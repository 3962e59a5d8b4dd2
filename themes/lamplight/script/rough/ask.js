/* One thing while it is entered: a draft of answers in, the next question out, and at the last answer the thing on the map.
   An answer that was not given is null; one that nobody knows is "". */
var behind = [];    /* the map before each step, so that a step can be taken back */
var undone = "";    /* the ids of what was just taken back */

function ask(draft) { house.open = draft; go("ask"); }
function askPanel(from) { ask({what: "panel", at: null, from: from}); }
function askBreaker() {
  ask({what: "breaker", on: house.panels.length === 1 ? house.panels[0].id : null, space: null, size: null, type: null});
}
/* A point; `from` null: it is asked for. */
function askPoint(from, circuit) {
  ask({what: "point", from: from, circuit: circuit, side: null, is: null, use: null, room: null, at: null, given: Boolean(from)});
}
/* Of which a change left the terminals unsaid. */
function askSide(point) {
  house.open = {what: "change", of: "point", thing: point.id, asks: "side", from: point.from, circuit: point.circuit, side: null, forced: true};
}
/* One fact of a thing that is on the map. */
function askAgain(what, id, fact) {
  var draft = {what: "change", of: what, thing: id, asks: fact};
  draft[fact] = null;
  if (fact === "from") { draft.circuit = pointOf(id).circuit; draft.side = null; }
  ask(draft);
}

function questions(draft) {
  if (draft.what === "panel") { return ["at"]; }
  if (draft.what === "circuit") { return ["number"]; }
  if (draft.what === "breaker") { return (house.panels.length > 1 ? ["on"] : []).concat("space", "size", "type"); }
  var side = draft.from && hasSides(draft.from) ? ["side"] : [];
  if (draft.what === "change") { return [draft.asks].concat(draft.asks === "from" ? side : []); }
  var kind = draft.is && kindOf(draft.is);
  return ["from"].concat(side, "is", kind && kind.outlet && !kind.face && !kind.light ? "use" : [], "room", "at");
}
function question(draft) { return questions(draft).filter(function (name) { return draft[name] === null; })[0] || null; }
function answer(name, value) {
  var draft = house.open;
  draft[name] = value;
  if (name === "from") { draft.side = null; }
  if (question(draft)) { go("ask"); return; }
  house.open = null;
  remember();
  ({panel: savePanel, breaker: saveBreaker, circuit: saveCircuit, point: savePoint, change: saveChange})[draft.what](draft);
}
/* What is answered is asked again. */
function unanswer(name) {
  house.open[name] = null;
  if (name === "from") { house.open.side = null; }
  go("ask");
}
/* One question back; from the first one out of it. A change that leaves terminals unsaid is taken back as a whole. */
function stepBack() {
  var draft = house.open, given = questions(draft).filter(function (name) { return draft[name] !== null; });
  if (draft.forced) { undo(); }
  else if (given.length > (draft.given ? 1 : 0)) { unanswer(given[given.length - 1]); }
  else { house.open = null; go(house.on ? "thing" : "map"); }
}

function remember() {
  undone = "";
  behind.push(JSON.stringify(house));
  if (behind.length > 50) { behind.shift(); }
}
function undo() {
  if (!behind.length) { return; }
  var was = house;
  house = JSON.parse(behind.pop());
  undone = changed(was, house);
  house.open = null;
  house.on = null;
  status(plain("map.undone", {ids: undone}));
  go("map");
}

/* "Undo: K4", of what the last step changed. */
function undoes() {
  var ids = changed(house, JSON.parse(behind[behind.length - 1]));
  return ids ? tell("map.undo", {ids: ids}) : tell("undo");
}

function savePanel(draft) {
  var id = freeId("P");
  house.panels.push({id: id, at: draft.at, from: draft.from});
  askBreaker();
}
/* "5", or "5/7" where two poles take the space below as well (common practice, no source). */
function spaceOf(space, poles) { return poles === "2" && /^\d+$/.test(space) ? space + "/" + (Number(space) + 2) : space; }
function saveBreaker(draft) {
  var id = breakerId(draft.space.split("/")[0], draft.on), space = spaceOf(draft.space, draft.size.poles);
  house.breakers.push({id: id, panel: draft.on, space: space, amps: draft.size.amps, poles: draft.size.poles, type: draft.type});
  saveCircuit({breaker: id, number: freeNumber(draft.on, space)});
}
function saveCircuit(draft) {
  house.made += 1;
  house.circuits.push({key: "c" + house.made, breaker: draft.breaker, number: draft.number, serves: "", wire: ""});
  house.last = draft.breaker;
  showThing("breaker", draft.breaker, true);
}
function savePoint(draft) {
  var id = idFor(draft), point = {id: id, is: draft.is, circuit: draft.circuit, from: draft.from, side: draft.side || "", room: draft.room, at: draft.at,
    use: draft.use || "", note: ""};
  DEVICE_FACTS.forEach(function (fact) { point[fact] = ""; });
  house.points.push(point);
  house.last = id;
  status(plain("map.saved", {id: id}));
  showThing("point", id, true);
}
function saveChange(draft) {
  var fact = draft.asks, thing = thingOf(draft.of, draft.thing), value = draft[fact], was = draft.thing;
  if (fact === "from" || fact === "side") { refeed(thing, draft.from, draft.side || "", draft.circuit); }
  else if (fact === "id") { rename(thing, value); }
  else if (fact === "size") { resize(thing, value); }
  else if (fact === "space") { respace(thing, value); }
  else { thing[fact] = value; }
  if (fact === "is") { hangOn(thing.id).forEach(function (one) { if (!hasSides(thing.id)) { one.side = ""; } }); }
  showThing(draft.of === "circuit" ? "breaker" : draft.of, draft.of === "circuit" ? thing.breaker : thing.id, fact === "id", fact === "id" ? was : "");
}
function resize(breaker, value) {
  breaker.amps = value.amps;
  if (breaker.poles !== value.poles) { breaker.poles = value.poles; respace(breaker, breaker.space.split("/")[0]); }
}
/* Id and number go along where they were those of the old space. */
function respace(breaker, value) {
  var old = breaker.space, space = spaceOf(value, breaker.poles), plain = value.split("/")[0];
  breaker.space = space;
  circuitsOn(breaker.id).forEach(function (one) { if (one.number === old && old !== space) { one.number = freeNumber(breaker.panel, space); } });
  if (breaker.id === "B" + old.split("/")[0] && breaker.id !== "B" + plain) { rename(breaker, breakerId(plain, breaker.panel)); }
}
function thingOf(what, id) { return {point: pointOf, breaker: breakerOf, circuit: circuitOf, panel: panelOf}[what](id); }
function takeOut(what, id) {
  remember();
  var list = what === "point" ? "points" : "breakers";
  house[list] = house[list].filter(function (one) { return one.id !== id; });
  if (what === "breaker") { house.circuits = house.circuits.filter(function (one) { return one.breaker !== id; }); }
  house.on = null;
  if (house.last === id) { house.last = null; }
  status(plain("map.removed", {id: id}));
  go("map");
}
/* What keeps a thing from being taken out. */
function holds(what, id) {
  var points = what === "breaker" ? house.points.filter(function (one) { return circuitOf(one.circuit).breaker === id; }) : hangOn(id);
  return points.concat(house.panels.filter(function (one) { return one.from === id; })).map(function (one) { return one.id; });
}

/* The spaces of its panel that other breakers are in. */
function takenSpaces(draft) {
  var panel = draft.what === "change" ? breakerOf(draft.thing).panel : draft.on;
  return house.breakers.filter(function (one) { return one.panel === panel && one.id !== draft.thing; }).map(function (one) {
    return one.space.toUpperCase().split("/");
  }).reduce(function (all, spaces) { return all.concat(spaces); }, []);
}
/* What a typed answer may be: the words of what is wrong with it, or null. */
function wrong(name, text, draft) {
  if (DATA.dittos.indexOf(text.toLowerCase()) >= 0) { return tell("bad.text"); }
  if (name === "id") {
    return !isId(text.toUpperCase()) ? tell("bad.id") : ids().indexOf(text.toUpperCase()) >= 0 && text.toUpperCase() !== draft.thing ?
      tell("bad.taken", {id: text.toUpperCase()}) : null;
  }
  if (name === "space") {
    var twice = text.split("/").filter(function (space) { return takenSpaces(draft).indexOf(space.toUpperCase()) >= 0; });
    return !/^[0-9A-Za-z]+(\/[0-9A-Za-z]+)*$/.test(text) ? tell("bad.space") : twice.length ? tell("bad.space_taken", {space: twice[0]}) : null;
  }
  if (name === "number") { return numberWrong(text, draft); }
  if (name === "size") { return !/^[0-9]{1,4}$/.test(text) || Number(text) < 1 || Number(text) > 1000 ? tell("bad.amps") : null; }
  return null;
}
/* The reader takes "breaker 5", "B5" and "#5" for circuit 5, and two of one number in a panel for one circuit. */
function numberWrong(text, draft) {
  var circuit = draft.what === "change" ? circuitOf(draft.thing) : null;
  return !/^[0-9A-Za-z][0-9A-Za-z\/ .-]*$/.test(text) || /^(breaker|circuit|ckt|b)[\s.]*[0-9]/i.test(text) ? tell("bad.space") :
    numbersIn(breakerOf(circuit ? circuit.breaker : draft.breaker).panel, circuit).indexOf(text.toLowerCase()) >= 0 ? tell("bad.taken", {id: text}) : null;
}
/* The texts that are offered: those of this house first, then usual ones. */
function offered(draft, name, thing) {
  var words = DATA.words, kind = thing.is ? kindOf(thing.is) : null, used = house.points.map(function (one) { return one[name]; }).filter(Boolean).reverse();
  var lists = {room: function () { return used.concat(Object.keys(words.rooms)); }, use: function () { return words.uses; },
    at: function () {
      if (draft.what === "panel" || draft.of === "panel") { return words.panels; }
      var here = house.points.filter(function (one) { return one.room === thing.room && one !== thing; }).map(function (one) { return one.at; });
      return (kind.light ? words.lights : (words.spots[thing.room] || []).concat(words.anywhere)).filter(function (spot) { return here.indexOf(spot) < 0; });
    },
    wire: function () { return words.wires; }, rating: function () { return words.ratings.concat(used); }, "class": function () { return words.classes; },
    make: function () { return used; }, model: function () { return used; }, date_code: function () { return used; }, installed: function () { return used; },
    torque: function () { return used; }};
  return (lists[name] ? lists[name]() : []).filter(function (text, place, list) { return list.indexOf(text) === place; });
}
