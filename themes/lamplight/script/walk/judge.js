/* Holds what was tapped against sets that were worked out before: it compares, it decides nothing. `map` is DATA.map; a row is
   {outlet, pressed, together, wiring, tripped, dead, live, left}. */
function has(list, id) { return Boolean(list) && list.indexOf(id) >= 0; }

/* What was open after the press: what tripped, and the handle; of a round all of it. */
function opened(row) {
  if (row.together) { return row.together.concat(row.tripped.filter(function (id) { return !has(row.together, id); })); }
  return (row.pressed === "breaker" && !has(row.tripped, row.outlet) ? [row.outlet] : []).concat(row.tripped);
}
/* The contacts that stand before an outlet. */
function before(map, outlet) { return Object.keys(map.cuts).filter(function (id) { return has(map.cuts[id], outlet); }); }

/* True where the map has this outlet dead while these are open. */
function cut(map, outlet, open) { return open.some(function (id) { return has(map.cuts[id], outlet); }); }

/* Outlet -> "dead" or "live", as the row says; what it says both ways it does not say. */
function looks(map, row, isOutlet) {
  var dead = row.dead.slice(), live = row.live.slice(), seen = {};
  if (row.left !== null && isOutlet(row.outlet)) { (row.left <= map.dead_volts ? dead : live).push(row.outlet); }
  dead.forEach(function (id) { if (!has(live, id)) { seen[id] = "dead"; } });
  live.forEach(function (id) { if (!has(dead, id)) { seen[id] = "live"; } });
  return seen;
}
/* Every fact of one row that the map as written cannot explain: [outlet, "dead" | "live" | "tester opened" | "no trip"]. */
function clashes(map, row, isOutlet) {
  var open = opened(row), seen = looks(map, row, isOutlet), found = [];
  Object.keys(seen).forEach(function (id) {
    var dead = seen[id] === "dead";
    var agrees = dead && has(map.unknown, id) ? open.length > 0 : dead === cut(map, id, open);
    if (!agrees) { found.push([id, seen[id]]); }
  });
  if (row.pressed === "tester") {
    var own = cut(map, row.outlet, row.tripped), partners = own ? map.partners[row.outlet] : [];
    var odd = row.tripped.filter(function (id) { return !has(map.cuts[id], row.outlet) && !has(partners, id); });
    var ground = row.wiring === "correct" || !has(map.bare, row.outlet) && row.wiring !== "open ground";
    if (odd.length && !has(map.unknown, row.outlet)) { found.push([row.outlet, "tester opened"]); }
    if (!row.tripped.length && map.guards[row.outlet] && ground) { found.push([row.outlet, "no trip"]); }
  }
  return found;
}
/* What the row says against itself: [id, "own test"]: its own TEST opened nothing, or another; [id, "volts"]: the tap and the meter differ. */
function atOdds(map, row, isOutlet) {
  var found = [];
  if (row.pressed === "device" && !(row.tripped.length === 1 && row.tripped[0] === row.outlet)) { found.push([row.outlet, "own test"]); }
  if (row.left !== null && has(row.left <= map.dead_volts ? row.live : row.dead, row.outlet)) { found.push([row.outlet, "volts"]); }
  return found;
}
