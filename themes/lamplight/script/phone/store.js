/* Where entries are kept: on the phone, tried before it is trusted; in the address where the phone refuses; one tab at a time. A value has a turn: of two copies the later one counts. */
var store = {key: "", me: "", turn: 0, works: false, state: "untried", spoilt: null, proved: false, taken: false, full: false};

/* Opens what was kept and calls `begin` with it, or with null. `sound` says whether a value is whole. States: untried | kept | address | none.
   Seen in Chromium: a file opened as another page closes may be given an empty store of its own, for as long as it is open. So a page that
   finds nothing leaves a mark and is loaded anew, until a load finds what was kept, or the mark of the load before; four loads at most. */
function storeOpen(key, sound, begin) {
  var text = null, again = null, asked = window.name.split("\n"), found = null, loads = asked[0] === key ? Number(asked[1]) : 0;
  store.key = key;
  store.sound = sound;
  store.me = String(Math.random()).slice(2);
  try {
    text = localStorage.getItem(key);
    found = localStorage.getItem(key + " try");
    localStorage.setItem(key + " try", store.me);
    store.works = localStorage.getItem(key + " try") === store.me;
  } catch (refused) { store.works = false; }
  if (text === null && store.works && location.protocol === "file:" && loads < 3 && !(loads && found === asked[2])) {
    window.name = [key, loads + 1, store.me].join("\n");
    setTimeout(function () { storeOpen(key, sound, begin); }, 4000);    /* a page that could not be loaded anew begins as it is */
    location.reload();
    return;
  }
  window.name = "";
  try { localStorage.removeItem(key + " try"); } catch (refused) { store.works = false; }
  try {    /* a page only loaded anew has not shown that the phone keeps anything */
    again = sessionStorage.getItem(key);
    sessionStorage.setItem(key, "open");
  } catch (refused) { again = null; }
  var kept = storeRead(text), address = storeRead(storeAddress());
  if (text !== null && !kept) {
    store.spoilt = text;
    try { localStorage.setItem(key + " spoilt", text); } catch (refused) { store.full = true; }
  }
  var latest = kept && (!address || kept.turn >= address.turn) ? kept : address;
  store.turn = latest ? latest.turn : 0;
  store.state = kept && (kept.seen || !again) ? "kept" : "untried";
  store.proved = store.state === "kept" && !kept.seen;    /* now for the first time: worth telling */
  begin(latest ? latest.value : null);
}
function storeRead(text) {
  try {
    var found = JSON.parse(text);
    return found && typeof found.turn === "number" && store.sound(found.value) ? found : null;
  } catch (spoilt) { return null; }
}
function storeAddress() {
  try { return decodeURIComponent(escape(atob(location.hash.slice(1)))); } catch (spoilt) { return ""; }
}

/* Keep a value. False where another tab has taken over: nothing is written then. `mine`: take over. */
function storeKeep(value, mine) {
  var done = false;
  if (store.works) {
    try {
      var there = storeRead(localStorage.getItem(store.key));
      if (there && !mine && there.owner !== store.me) { store.taken = true; return false; }
      store.turn = Math.max(store.turn, there ? there.turn : 0) + 1;
      localStorage.setItem(store.key, storeText(value));
      done = true;
      store.full = false;
    } catch (refused) { store.full = true; }
  }
  store.taken = false;
  if (!done) {
    store.turn += 1;
    store.state = storeCopy(storeText(value)) ? "address" : "none";
  }
  return true;
}
function storeText(value) {
  return JSON.stringify({turn: store.turn, owner: store.me, seen: store.state === "kept", value: value});
}
function storeCopy(text) {
  try {
    var copy = "#" + btoa(unescape(encodeURIComponent(text)));
    try { history.replaceState(null, "", copy); } catch (refused) { location.hash = copy; }
    return location.hash === copy;
  } catch (refused) { return false; }
}
/* What another tab wrote last. */
function storeLatest() {
  try { var found = storeRead(localStorage.getItem(store.key)); return found ? found.value : null; } catch (refused) { return null; }
}
/* Calls when another tab took over. */
function storeHear(told) {
  window.addEventListener("storage", function (event) {
    var there = event.key === store.key && event.newValue !== null ? storeRead(event.newValue) : null;
    if (there && there.owner !== store.me) { store.taken = true; told(); }
  });
}
