/* Opens what was kept, or begins; hears of another tab. */
log = storeOpen("walk " + DATA.job + " " + DATA.page, sound) || newLog();
if (log.open && !log.drafts[log.open]) { log.open = null; }
at = !log.by || log.day !== stampOf(now()).slice(0, 10) || store.state !== "kept" ? "start" : log.open ? "test" : "list";
storeKeep(log, true);
window.addEventListener("storage", function (event) {
  if (event.key === store.key && event.newValue !== null) {
    var there = storeRead(event.newValue);
    if (there && there.owner !== store.me) { store.taken = true; draw(); }
  }
});
draw();
