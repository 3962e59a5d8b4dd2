/* Rows as a CSV file: written as the project writes its own. */
function csvCell(text) { return /[",\r\n]/.test(text) ? '"' + text.replace(/"/g, '""') + '"' : text; }
function csvRow(cells) { return cells.map(csvCell).join(",") + "\n"; }
/* A text that a person typed, on one line and without signs that no one sees. */
function oneLine(text) { return text.replace(/[\u0000-\u001f\u007f-\u009f\u2028\u2029]+/g, " ").replace(/ +/g, " ").trim(); }
