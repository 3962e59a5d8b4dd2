/* Opens what was kept, or begins; hears of another tab. */
var found = storeOpen("walk " + DATA.job + " " + DATA.page, sound);
log = found || newLog();
if (log.open && !log.drafts[log.open]) { log.open = null; }
at = !log.by || log.day !== stampOf(now()).slice(0, 10) || store.state !== "kept" || store.proved ? "start" : log.open ? "test" : "list";
storeFirst(found, function () { return log.by ? log : null; }, function (late) { log = late || log; return log; });
storeHear(draw);
draw();
