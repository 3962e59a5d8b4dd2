/* The map as it is tapped: panels, breakers, circuits, points; ids, and the rows of the file. Nothing here is guessed. */
var house = null;
var DEVICE_FACTS = ["rating", "class", "make", "model", "date_code", "installed", "torque"];
function newHouse() { return {panels: [], breakers: [], circuits: [], points: [], made: 0, on: null, last: null, open: null}; }
/* True of a value that this page can have kept: whatever it speaks of is there. */
function sound(value) {
  return Boolean(value) && ["panels", "breakers", "circuits", "points"].every(function (list) { return Array.isArray(value[list]); }) &&
    value.breakers.every(function (one) { return first(value.panels, "id", one.panel); }) &&
    value.circuits.every(function (one) { return first(value.breakers, "id", one.breaker); }) &&
    value.points.every(function (one) { return first(value.circuits, "key", one.circuit) && kindOf(one.is); });
}
function first(list, key, value) { return list.filter(function (one) { return one[key] === value; })[0] || null; }
function kindOf(name) { return first(DATA.kinds, "name", name); }
function pointOf(id) { return first(house.points, "id", id); }
function breakerOf(id) { return first(house.breakers, "id", id); }
function circuitOf(key) { return first(house.circuits, "key", key); }
function panelOf(id) { return first(house.panels, "id", id); }
function circuitsOn(breaker) { return house.circuits.filter(function (one) { return one.breaker === breaker; }); }
function pointsOn(circuit) { return house.points.filter(function (one) { return one.circuit === circuit; }); }
function hangOn(id) { return house.points.filter(function (one) { return one.from === id; }); }
/* A device with terminals of both sides: what hangs on it must say which. */
function hasSides(id) { var point = pointOf(id); return Boolean(point) && kindOf(point.is).sides; }
/* The point and all that hangs on it. */
function below(id) {
  return [id].concat.apply([id], hangOn(id).map(function (one) { return below(one.id); }));
}
/* A circuit in feed order, each with how deep it hangs; what nobody knows the feed of comes last. */
function feedOrder(circuit) {
  var found = [], points = pointsOn(circuit.key);
  function walk(id, deep) {
    points.filter(function (one) { return one.from === id; }).forEach(function (one) {
      found.push({point: one, deep: deep});
      walk(one.id, deep + 1);
    });
  }
  walk(circuit.breaker, 0);
  points.filter(function (one) { return one.from === "unknown"; }).forEach(function (one) {
    found.push({point: one, deep: 0});
    walk(one.id, 1);
  });
  return found;
}
/* A point that hangs on a device, of which nobody said the terminals. */
function unsided() {
  return house.points.filter(function (one) { return hasSides(one.from) && !one.side; })[0] || null;
}

/* The ids of all that is in one of two maps and not the same in the other. */
function changed(one, other) {
  function things(map) {
    return [].concat(map.panels, map.breakers, map.points, map.circuits).map(function (thing) { return [thing.id || thing.breaker, JSON.stringify(thing)].join(" "); });
  }
  function only(map, but) { return things(map).filter(function (thing) { return things(but).indexOf(thing) < 0; }); }
  return only(one, other).concat(only(other, one)).map(function (thing) { return thing.split(" ")[0]; }).filter(function (id, at, all) {
    return all.indexOf(id) === at;
  }).join(" ");
}
function ids() { return house.panels.concat(house.breakers, house.points).map(function (one) { return one.id; }); }
function freeId(letter) {
  for (var number = 1; ; number += 1) { if (ids().indexOf(letter + number) < 0) { return letter + number; } }
}
function isId(text) {
  return /^[A-Z][A-Z0-9-]{0,7}$/.test(text) && !/-(LINE|LOAD)$/.test(text) && DATA.refused.indexOf(text) < 0;
}
/* The id that a new point gets: by what it is, else by its room. */
function idFor(draft) {
  var kind = kindOf(draft.is), letter = DATA.words.rooms[draft.room] || draft.room.charAt(0).toUpperCase();
  if (!kind.outlet || kind.light) { return freeId(kind.light ? "L" : kind.switch ? "S" : kind.sides ? "F" : "J"); }
  return freeId(/^[A-Z]$/.test(letter) && "BPLSJF".indexOf(letter) < 0 ? letter : "R");
}
/* B5; in a second panel B5-P2 where the first has B5. */
function breakerId(space, panel) {
  var plain = ("B" + space.toUpperCase().replace(/[^A-Z0-9]+/g, "-")).replace(/-$/, ""), long = plain + "-" + panel;
  return isId(plain) && ids().indexOf(plain) < 0 ? plain : isId(long) && ids().indexOf(long) < 0 ? long : freeId("BX");
}
/* The numbers of a panel's circuits, one circuit apart; and one that none of them has. */
function numbersIn(panel, but) {
  return house.circuits.filter(function (one) { return one !== but && breakerOf(one.breaker).panel === panel; }).map(function (one) { return one.number.toLowerCase(); });
}
function freeNumber(panel, number) {
  var known = numbersIn(panel, null), more = 2;
  if (known.indexOf(number.toLowerCase()) < 0) { return number; }
  while (known.indexOf((number + "-" + more).toLowerCase()) >= 0) { more += 1; }
  return number + "-" + more;
}
function rename(thing, id) {
  house.points.forEach(function (one) { if (one.from === thing.id) { one.from = id; } });
  house.circuits.forEach(function (one) { if (one.breaker === thing.id) { one.breaker = id; } });
  house.breakers.forEach(function (one) { if (one.panel === thing.id) { one.panel = id; } });
  house.panels.forEach(function (one) { if (one.from === thing.id) { one.from = id; } });
  if (house.last === thing.id) { house.last = id; }
  thing.id = id;
}
/* Something else feeds it: what hangs on it goes along to that circuit. */
function refeed(point, from, side, circuit) {
  below(point.id).forEach(function (id) { pointOf(id).circuit = circuit; });
  point.from = from;
  point.side = side;
}

/* The file: a row a point, and one for a circuit without any. */
function rowOfMap(circuit, point) {
  var breaker = breakerOf(circuit.breaker), panel = panelOf(breaker.panel), wire = (circuit.wire || "").split(" ");
  var cells = {circuit: circuit.number, panel: panel.id, panel_at: panel.at, panel_fed_from: panel.from || "", breaker: breaker.id,
    space: breaker.space, poles: breaker.poles, amps: breaker.amps, type: breaker.type, awg: wire[0], metal: wire[1], serves: circuit.serves};
  if (point) {
    ["id", "is", "room", "at", "use", "note"].concat(DEVICE_FACTS).forEach(function (key) { cells[key] = point[key]; });
    cells.fed_from = point.from + (point.side ? " " + point.side : "");
  }
  return DATA.columns.map(function (name) { return cells[name] || ""; });
}
function fileOfMap() {
  var rows = [DATA.columns];
  house.circuits.forEach(function (circuit) {
    var points = pointsOn(circuit.key);
    rows = rows.concat(points.length ? points.map(function (point) { return rowOfMap(circuit, point); }) : [rowOfMap(circuit, null)]);
  });
  return rows.map(csvRow).join("");
}
