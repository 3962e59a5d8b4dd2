/* Opens what was kept, or begins; hears of another tab. */
storeOpen("walk " + DATA.job + " " + DATA.page, sound, function (found) {
  log = found || newLog();
  if (log.open && !log.drafts[log.open]) { log.open = null; }
  at = !log.by || log.day !== stampOf(now()).slice(0, 10) || store.state !== "kept" || store.proved ? "start" : log.open ? "test" : "list";
  storeKeep(log, true);
  storeHear(draw);
  draw();
});
