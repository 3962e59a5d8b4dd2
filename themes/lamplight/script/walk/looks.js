/* What was seen at the outlets, what of it is at odds, what was not looked at, and the row that is saved. */
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
        var next = without(draft.seen, [id]);
        if (draft.seen[id] !== what) { next[id] = what; }
        set({seen: next, rested: draft.rested.filter(function (one) { return one !== id; }), kept: draft.kept.filter(function (one) { return one.split(" ")[0] !== id; })});
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
  if (has(["tester opened", "no trip", "own test"], odd[1])) { set({opened: null, left: null, kept: [], atodds: false}); }
  else if (row.pressed === "tester" && odd[0] === row.outlet) { set({left: null, atodds: false}); }
  else { set({seen: without(draft.seen, [odd[0]]), rested: draft.rested.filter(function (id) { return id !== odd[0]; }), atodds: false}); }
}
function oddPart(test, draft, set) {
  var found = odds(test, draft), answers = oddAnswers(test, draft);
  return {main: [asking("odd.title"), oddPanel((answers.length ? answers : found)[0], rowOf(test, draft), draft, function (changes) {
    var last = changes.kept && draft.atodds && found.length === 1;
    if (last) { changes.atodds = false; }
    set(changes);
    if (last) { trySave(test, draft, set, draft.reset); }    /* the save that had asked goes on */
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
      var next = without(draft.seen, []), ids = rest.map(function (outlet) { return outlet.id; });
      ids.forEach(function (id) { next[id] = "live"; });
      set({seen: next, rested: draft.rested.concat(ids), rest: null});
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
      tap(tell("reset.sure"), function () { draft.noreset = false; trySave(test, draft, set, "no"); }, {look: "stop wide", key: "sure"})]};
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
  return [tap(tell("to_list"), leaveTest, {key: "back"}),
    opens ? tap(tell(test.open ? "reset.not_all" : row.pressed === "breaker" ? "reset.off" : "reset.no"), function () { set({noreset: true}); }, {look: "stop", key: "no reset"}) : null,
    tap(tell(name), function () { trySave(test, draft, set, opens ? "yes" : null); }, {look: "main", key: "save"})];
}
function trySave(test, draft, set, reset) {
  if (odds(test, draft).length) { set({reset: reset, atodds: true}); return; }
  draft.reset = reset;
  if (gapsIn(test, draft).length) { set({gaps: true}); return; }
  saveTest(test, draft);
}
