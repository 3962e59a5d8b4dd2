/* What every page for the phone begins with: its data, its words, elements made of text alone, one screen at a time. */
"use strict";
var DATA = JSON.parse(document.getElementById("data").textContent);

/* The sentence of this name as nodes: **strong** pieces, and each value apart, so that its direction of writing is its own. */
function tell(name, values) {
  var sentence = name.split(".").reduce(function (node, part) { return node[part]; }, DATA.words);
  if (typeof sentence !== "string") { throw new Error("no words: " + name); }
  return sentence.split(/(\*\*.+?\*\*)/).filter(Boolean).map(function (piece) {
    return piece.slice(0, 2) === "**" ? make("strong", {}, filled(piece.slice(2, -2), values, name)) : filled(piece, values, name);
  });
}
function filled(text, values, name) {
  return text.split(/(\{\w+\})/).filter(Boolean).map(function (piece) {
    if (piece[0] !== "{") { return piece; }
    var value = (values || {})[piece.slice(1, -1)];
    if (value === undefined) { throw new Error("no value " + piece + ": " + name); }
    return typeof value === "number" ? String(value) : value instanceof Node ? value : apart(value);
  });
}
function plain(name, values) { return make("p", {}, tell(name, values)).textContent; }
function apart(text) { return make("bdi", {}, text); }

/* An element. `on` is what a tap does; children are texts, elements, or lists of them. */
function make(tag, has) {
  var node = document.createElement(tag);
  Object.keys(has).forEach(function (name) {
    var value = has[name];
    if (name === "on") { node.addEventListener("click", value); }
    else if (name === "input") { node.addEventListener("input", value); }
    else if (value === true) { node.setAttribute(name, ""); }
    else if (value !== false && value !== null && value !== undefined) { node.setAttribute(name, value); }
  });
  add(node, Array.prototype.slice.call(arguments, 2));
  return node;
}
function add(node, children) {
  children.forEach(function (child) {
    if (Array.isArray(child)) { add(node, child); }
    else if (child !== null && child !== undefined && child !== false) {
      node.appendChild(child instanceof Node ? child : document.createTextNode(String(child)));
    }
  });
}

/* A key: `look` is a class, `key` names it for the focus; `down` true or false makes it one that stays pressed. */
function tap(says, on, has) {
  has = has || {};
  return make("button", {type: "button", on: on, "class": has.look, "data-key": has.key, id: has.id,
    "aria-pressed": has.down === undefined ? null : String(has.down), "aria-label": has.label}, says);
}

/* The line above a screen, its heading, a paragraph. */
function head(left, right) { return [make("span", {dir: "auto"}, left), right ? make("span", {dir: "auto"}, right) : null]; }
function heading(nodes) { return make("h1", {}, nodes); }
function para(look, nodes) { return make("p", {"class": look}, nodes); }

/* One screen: `name` tells a new one from the same one drawn again, which keeps its place and its focus. */
var shown = "";
function show(name, screen) {
  var fresh = name !== shown, held = document.activeElement && document.activeElement.getAttribute("data-key");
  shown = name;
  fill("top", screen.top); fill("screen", screen.main); fill("bar", screen.bar || []);
  document.body.setAttribute("data-screen", name.split(" ")[0]);
  if (fresh) {
    window.scrollTo(0, 0);
    document.getElementById("screen").focus({preventScroll: true});
  } else if (held) {
    var again = document.querySelector('[data-key="' + CSS.escape(held) + '"]');
    (again || document.getElementById("screen")).focus({preventScroll: true});
  }
}
function fill(id, nodes) {
  var place = document.getElementById(id);
  place.textContent = "";
  add(place, [nodes]);
}
/* What a screen reader says without losing its place. */
function status(text) { document.getElementById("status").textContent = text; }
