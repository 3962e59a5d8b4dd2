/* All that was entered, and its way into the store: rows, drafts, who and when. */
var log = null, banner = null;
function sound(value) {
  return Boolean(value) && Array.isArray(value.rows) && typeof value.drafts === "object" && value.drafts !== null && value.rows.every(function (row) {
    return row && Array.isArray(row.cells) && row.cells.length === DATA.columns.length && row.cells.every(function (cell) {
      return typeof cell === "string";
    });
  });
}
function newLog() { return {by: "", day: "", told: "", offset: 0, places: DATA.places, rows: [], drafts: {}, open: null}; }

/* Keep it; every tap comes through here. Another tab that took over is told instead. */
function keep() {
  if (!storeKeep(log, false)) { draw(); return false; }
  return true;
}
function two(number) { return (number < 10 ? "0" : "") + number; }
/* A time of the phone as 2026-05-11 14:03:22. */
function stampOf(when) {
  return when.getFullYear() + "-" + two(when.getMonth() + 1) + "-" + two(when.getDate()) + " " + two(when.getHours()) + ":" +
    two(when.getMinutes()) + ":" + two(when.getSeconds());
}
function now() { return new Date(Date.now() + log.offset); }
function fromStamp(stamp) { return new Date(stamp.replace(" ", "T")); }
function lastStamp() {
  return log.rows.reduce(function (last, row) { var stamp = row.cells[0] + " " + row.cells[12]; return stamp > last ? stamp : last; }, "");
}
/* The time of a new row: always behind the last one, so that what was looked at later counts; a clock that went back is told. */
function nextStamp() {
  var stamp = stampOf(now()), last = lastStamp();
  if (stamp > last) { return {stamp: stamp, back: ""}; }
  var after = new Date(fromStamp(last).getTime() + 1000);
  return {stamp: stampOf(after), back: after - now() > 60000 ? stamp : ""};
}
function notFiled() { return log.rows.filter(function (row) { return !row.filed; }).length; }
function rowsOfTest(key) { return log.rows.filter(function (row) { return row.key === key; }); }
function stateOf(key) {
  var rows = rowsOfTest(key);
  return rows.length ? rows[rows.length - 1].state : log.drafts[key] ? "draft" : "open";
}
function toDo() { return DATA.tests.filter(function (test) { return !rowsOfTest(test.key).length; }); }
function extras() {
  var keys = log.rows.map(function (row) { return row.key; }).concat(Object.keys(log.drafts));
  return keys.filter(function (key, at) { return !TEST[key] && keys.indexOf(key) === at; }).map(testOf);
}

function openTest(key) {
  if (!log.drafts[key]) { log.drafts[key] = draftOf(testOf(key)); }
  log.open = key;
  go("test");
}
/* A row out of a draft, and on to the next test. */
function saveTest(test, draft) {
  var when = nextStamp(), gaps = gapsIn(test, draft).length;
  var row = {key: test.key, cells: cellsOf(test, draft, when.stamp, log.by, when.back ? [plain("note.clock", {stamp: when.back})] : []),
    draft: draft, filed: false, state: draft.reset === "no" ? "unreset" : draft.kept.length ? "kept" : gaps ? "gaps" : "done"};
  log.rows.push(row);
  delete log.drafts[test.key];
  var next = nextTest(test);
  var roomDone = !toDo().some(function (one) { return one.room === test.room; });
  banner = {undo: row, back: Boolean(when.back), unlit: test.part === "again" ? rowOf(test, draft).dead.join(" ") : "", room: roomDone && !test.extra ? test.room : ""};
  if (next && !test.extra && draft.reset !== "no") { openTest(next.key); } else { log.open = null; go("list"); }
  status(plain("saved", {what: plainName(test)}));
}
function nextTest(test) {
  var left = toDo(), at = test ? DATA.tests.indexOf(test) : -1;
  return left.filter(function (one) { return DATA.tests.indexOf(one) > at; })[0] || left[0] || null;
}
/* What to go on with: a draft, else the test behind the one saved last. */
function goOn() {
  var begun = Object.keys(log.drafts)[0], last = log.rows[log.rows.length - 1];
  return begun ? testOf(begun) : nextTest(last && TEST[last.key] ? TEST[last.key] : null);
}
/* Out of a test; what was answered stays as a draft. */
function leaveTest() {
  if (!touched(log.drafts[log.open])) { delete log.drafts[log.open]; }
  log.open = null;
  go("list");
}
/* The row comes out again and is a draft as it was. */
function undo(row) {
  log.rows = log.rows.filter(function (other) { return other !== row; });
  log.drafts[row.key] = row.draft;
  if (log.open && log.open !== row.key && !touched(log.drafts[log.open])) { delete log.drafts[log.open]; }
  banner = null;
  openTest(row.key);
}
function touched(draft) { return Boolean(draft) && JSON.stringify(draft) !== JSON.stringify(draftOf(testOf(draft.key))); }
/* Rows of an earlier page of this job that are in no file. */
function leftBehind() {
  var found = [];
  try {
    for (var at = 0; at < localStorage.length; at += 1) {
      var name = localStorage.key(at), value;
      if (name.indexOf("walk " + DATA.job + " ") === 0 && name !== store.key && !/ (try|spoilt)$/.test(name)) {
        value = storeRead(localStorage.getItem(name));
        if (value && value.value.rows.some(function (row) { return !row.filed; })) { found.push(value.value); }
      }
    }
  } catch (refused) { return found; }
  return found;
}
