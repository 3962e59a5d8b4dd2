/* One test while it is entered: a draft of answers in, the next question and the row of the file out. */
var OUTLET = {}, OPENER = {}, TEST = {};
DATA.outlets.forEach(function (outlet) { OUTLET[outlet.id] = outlet; });
DATA.openers.forEach(function (opener) { OPENER[opener.id] = opener; });
DATA.tests.forEach(function (test) { TEST[test.key] = test; });
function isOutlet(id) { return Boolean(OUTLET[id]); }

/* A test that is not on the list: its key says all of it. */
function extra(pressed, outlet) {
  var at = OUTLET[outlet] || OPENER[outlet];
  return {key: "0 " + pressed + " " + outlet, part: pressed, pressed: pressed, outlet: outlet, room: at.room, extra: true,
    looks: pressed === "device" || pressed === "breaker" ? onCircuit(outlet) : []};
}
function testOf(key) {
  var words = key.split(" ");
  return TEST[key] || extra(words[1], words[2]);
}
function draftOf(test) {
  return {key: test.key, wiring: null, whole: null, volts: null, opened: null, more: false, left: null,
    seen: {}, rested: [], kept: [], reset: null, note: "", photo: "", rest: null, gaps: false, noreset: false, atodds: false, rooms: [], typing: null, walked: false};
}
/* The circuits that a breaker, a device or an outlet is on. */
function circuitsOf(id) {
  return DATA.map.circuits.filter(function (one) { return has(one.outlets, id) || has(one.openers, id); });
}
function onCircuit(id) { return all(circuitsOf(id), "outlets"); }
function openersNear(id) { return all(circuitsOf(id), "openers"); }
function all(circuits, what) {
  var found = [];
  circuits.forEach(function (one) { one[what].forEach(function (id) { if (!has(found, id)) { found.push(id); } }); });
  return found;
}

/* The press that becomes of a test: a tester is only pressed where it reads correct. */
function pressedBy(test, draft) {
  return test.pressed === "tester" && draft.wiring !== null && draft.wiring !== "correct" ? "none" : test.pressed;
}
/* The questions of a test in their order. */
function questions(test, draft) {
  if (test.part === "last" || test.pressed === "none" && !OUTLET[test.outlet].plugs) { return ["looks"]; }
  if (test.open) { return ["round", "looks"]; }
  if (test.pressed === "device" || test.pressed === "breaker") { return ["opened", "looks"]; }
  if (draft.wiring === "") { return ["wiring", "looks"]; }
  return pressedBy(test, draft) === "none" ? ["wiring", "volts", "looks"] : ["wiring", "volts", "opened", "left", "looks"];
}
function answered(test, draft, question) {
  return question === "wiring" ? draft.wiring !== null : question === "volts" ? draft.volts !== null :
    question === "left" ? draft.left !== null : question === "round" ? draft.walked : question === "opened" ? draft.opened !== null && !draft.more : false;
}
/* The first question without an answer; "odd" where an answer is at odds and was not looked at again. */
function question(test, draft) {
  var list = questions(test, draft);
  for (var at = 0; at < list.length; at += 1) {
    if (!answered(test, draft, list[at])) { return list[at]; }
    if ((list[at] === "opened" || list[at] === "left") && oddAnswers(test, draft).length) { return "odd"; }
  }
  return "looks";
}
function oddAnswers(test, draft) {
  return odds(test, draft).filter(function (one) {
    return one[0] === test.outlet && (test.pressed === "tester" || one[1] !== "dead" && one[1] !== "live");
  });
}

/* What is written of the test outlet itself: the meter says it, unless a tap says otherwise. */
function seenIn(test, draft) {
  var seen = {}, own = test.outlet;
  Object.keys(draft.seen).forEach(function (id) { seen[id] = draft.seen[id]; });
  if (!isOutlet(own) || seen[own] || test.open || test.part === "last") { return seen; }
  if (pressedBy(test, draft) === "tester" && draft.left) { seen[own] = draft.left.dead ? "dead" : "live"; }
  if (pressedBy(test, draft) === "none" && Number(draft.volts) > DATA.map.dead_volts) { seen[own] = "live"; }
  return seen;
}
/* The row as the comparison takes it; ids in feed order. */
function rowOf(test, draft) {
  var seen = seenIn(test, draft), ids = DATA.outlets.map(function (outlet) { return outlet.id; });
  function those(what) { return ids.filter(function (id) { return seen[id] === what; }); }
  var reads = pressedBy(test, draft) === "none", open = test.open ? test.open.filter(function (id) { return has(draft.opened || [], id); }) : null;
  var tripped = reads ? [] : (draft.opened || []).filter(function (id) { return !open || has(test.own, id) || !has(open, id); });
  var alone = open && open.length === 1;
  return {outlet: open ? open.join(" ") : test.outlet, together: open && !alone ? open : null,
    pressed: !open ? pressedBy(test, draft) : !alone ? "round" : has(test.own, open[0]) ? "device" : "breaker",
    volts: draft.volts || "", wiring: draft.wiring || "", tripped: tripped, dead: those("dead"), live: those("live"),
    left: draft.left && draft.left.volts !== "" && !reads ? Number(draft.left.volts) : null};
}
/* What is at odds and not kept yet. */
function odds(test, draft) {
  var row = rowOf(test, draft);
  var early = draft.opened === null && !test.open && pressedBy(test, draft) !== "none";
  var found = early ? [] : clashes(DATA.map, row, isOutlet).concat(atOdds(DATA.map, row, isOutlet));
  return found.filter(function (one) { return !has(draft.kept, one.join(" ")); });
}
/* The outlets that were asked for and not looked at. */
function gapsIn(test, draft) {
  var seen = seenIn(test, draft);
  var asked = test.looks.length ? test.looks : isOutlet(test.outlet) && pressedBy(test, draft) !== "device" && !test.open ? [test.outlet] : [];
  return asked.filter(function (id) { return !seen[id]; });
}
/* The outlets that "and the rest?" speaks of: not tapped, no light, within reach, and not expected dead: that has to be tapped. */
function restOf(test, draft, which) {
  var seen = seenIn(test, draft), open = opened(rowOf(test, draft)), circuit = which === "circuit" ? onCircuit(test.outlet) : null;
  return DATA.outlets.filter(function (outlet) {
    return !seen[outlet.id] && !outlet.light && !outlet.apart && !cut(DATA.map, outlet.id, open) && (!circuit || has(circuit, outlet.id)) &&
      (which.slice(0, 5) !== "room:" || outlet.room === which.slice(5));
  });
}
/* The fourteen cells. */
function cellsOf(test, draft, stamp, by, more) {
  var row = rowOf(test, draft);
  var again = draft.kept.map(function (one) { return one.split(" ")[0]; }).filter(function (id, at, ids) { return ids.indexOf(id) === at; });
  var note = [oneLine(draft.note), again.length ? "looked again: " + again.join(" ") : "", draft.photo ? "photo " + draft.photo : ""];
  return [stamp.slice(0, 10), row.outlet, row.pressed, row.volts, row.wiring, row.tripped.join(" ") || "none", row.dead.join(" "), row.live.join(" "),
    row.left === null ? "" : String(row.left), draft.reset || "", by, note.concat(more).filter(Boolean).join("; "), stamp.slice(11), DATA.mark];
}
/* The whole file: the job, its places, the names of the columns, every row. */
function fileOfTaps(rows, places) {
  return "# " + DATA.job + "\n" + places + "\n" + csvRow(DATA.columns) + rows.map(function (row) { return csvRow(row.cells); }).join("");
}
