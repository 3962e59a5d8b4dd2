/* Opens what was kept, or begins; hears of another tab. */
var found = storeOpen("walk " + DATA.job + " " + DATA.page, sound);
log = found || newLog();
if (log.open && !log.drafts[log.open]) { log.open = null; }
at = !log.by || log.day !== stampOf(now()).slice(0, 10) || store.state !== "kept" || store.proved ? "start" : log.open ? "test" : "list";
if (found || !store.works) { storeKeep(log, true); } else { setTimeout(lookOnceMore, 300); }
storeHear(draw);
draw();

/* A store may show itself empty for a moment: nothing is written over it before a second look. */
function lookOnceMore() {
  var late = log.by ? null : storeLatest();
  if (late) { log = late; }
  storeKeep(log, !log.by || Boolean(late));
  if (late) { draw(); }
}
