/* Three ways out of the phone, each by the user's own act: share, save, show as text. */
function canShare(name, text) {
  try { return Boolean(navigator.canShare && navigator.canShare({files: [fileOf(name, text)]})); } catch (no) { return false; }
}
function fileOf(name, text) { return new File([text], name, {type: "text/csv"}); }
/* `then` is called once the file was handed on; a person still says whether it arrived. */
function shareFile(name, text, then) { navigator.share({files: [fileOf(name, text)]}).then(then, function () { return null; }); }
function saveFile(name, text) {
  var url = URL.createObjectURL(fileOf(name, text)), link = make("a", {href: url, download: name, hidden: true});
  document.body.appendChild(link);
  link.click();
  link.remove();
  setTimeout(function () { URL.revokeObjectURL(url); }, 60000);
}
