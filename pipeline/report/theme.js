'use strict';
// What pages with a script share: their data, elements, and colours that follow the
// system until the reader chooses. Text reaches a page by textContent only.
const $ = (id) => document.getElementById(id);
const stock = JSON.parse($('stock').textContent);

// element makes an element with attributes and children, texts among them.
function element(tag, attributes, ...children) {
  const e = document.createElement(tag);
  for (const [k, v] of Object.entries(attributes ?? {})) if (v !== null && v !== undefined) e.setAttribute(k, v);
  e.append(...children.filter((c) => c !== null && c !== undefined));
  return e;
}

const root = document.documentElement;
const dark = () => (root.dataset.theme ?? (matchMedia('(prefers-color-scheme: dark)').matches ? 'dark' : 'light')) === 'dark';
// recolour names the button and tells what draws colours of its own.
function recolour() {
  $('theme').textContent = dark() ? 'Light' : 'Dark';
  $('theme').setAttribute('aria-label', dark() ? 'Use light colours' : 'Use dark colours');
  document.dispatchEvent(new Event('colours'));
}
$('theme').addEventListener('click', () => { root.dataset.theme = dark() ? 'light' : 'dark'; recolour(); });
matchMedia('(prefers-color-scheme: dark)').addEventListener('change', recolour);

// Paper is white.
let chosen;
addEventListener('beforeprint', () => { chosen = root.dataset.theme; root.dataset.theme = 'light'; recolour(); });
addEventListener('afterprint', () => { if (chosen) root.dataset.theme = chosen; else delete root.dataset.theme; recolour(); });
recolour();
