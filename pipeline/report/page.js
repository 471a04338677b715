// The page's data, its ranked table and what its parts share.
const meta = stock.meta;

// rowsOf turns a table of the data into objects by column name.
function rowsOf(table) {
  return table.rows.map((row) => {
    const out = {};
    table.columns.forEach(([name, kind], i) => { out[name] = kind === 'text' ? (row[i] === null ? '' : meta.texts[row[i]]) : row[i]; });
    return out;
  });
}
const buildings = rowsOf(stock.buildings);
const groupBy = (rows) => {
  const out = new Map();
  for (const r of rows) { if (!out.has(r.building_id)) out.set(r.building_id, []); out.get(r.building_id).push(r); }
  return out;
};
const candidates = groupBy(rowsOf(stock.candidates));
const verdicts = groupBy(rowsOf(stock.verdicts));
buildings.forEach((b, i) => {
  b.place = i;
  b.deadlier = (candidates.get(b.building_id) ?? []).some((c) => c.measure === b.best_measure && c.deaths_avoided < 0);
});

const owner = (text) => element('bdi', null, text); // the owner's text, in its own direction

const upper = (s) => s.charAt(0).toUpperCase() + s.slice(1);
const plain = (slug) => slug.replaceAll('-', ' ');
const measureName = (slug) => meta.measures[slug] ?? slug;
const format = new Intl.NumberFormat('en-GB', { maximumFractionDigits: 8 });
// two returns a number to two significant digits, a dash if it is not known.
function two(v) {
  if (v === null || v === undefined) return '-';
  if (v === 0) return '0';
  const s = Number(v.toPrecision(2));
  return (Math.abs(s) < 1e-4 ? s.toExponential(1) : format.format(s)).replace('-', '\u2212');
}
const money = (v) => (v === null ? '-' : two(v / meta.moneyUnit));
const fixed = (v, digits) => (v === null || v === undefined ? '-' : v.toFixed(digits).replace('-', '\u2212'));
const tenth = (v) => fixed(v, v !== null && Math.abs(v) < 0.1 ? 2 : 1);
const title = (b) => b.building_name || b.building_id;

// doubtsOf lists what a reader must know before trusting a row.
function doubtsOf(b) {
  const out = [];
  if (b.deadlier) out.push('deaths not reduced');
  if (b.tied) out.push('no clear winner');
  if (b.best_verdict === 'doubt') out.push('study first');
  if (b.best_verdict === 'missing') out.push('facts missing');
  if (b.solver_status) out.push('numbers less sure');
  return out;
}
const structureOf = (b) => [plain(b.system), b.storeys === null ? '' : b.storeys + (b.storeys === 1 ? ' storey' : ' storeys'), b.year ?? ''].filter((s) => s !== '').join(', ');

const columns = [
  { key: 'rank', head: 'Rank', number: true, value: (b) => b.rank, show: (b) => String(b.rank) },
  { key: 'name', head: 'Building', value: (b) => title(b).toLowerCase(), row: true },
  { key: 'structure', head: 'Structure', value: (b) => structureOf(b), show: structureOf },
  { key: 'measure', head: 'First choice', value: (b) => measureName(b.best_measure), show: (b) => upper(measureName(b.best_measure)) },
  { key: 'cost', head: 'Likely cost', number: true, value: (b) => b.best_cost_likely, show: (b) => money(b.best_cost_likely) },
  { key: 'benefit', head: 'Net benefit', number: true, value: (b) => b.best_net_benefit, show: (b) => money(b.best_net_benefit) },
  { key: 'drift', head: 'Drift now, % (to with it)', number: true, value: (b) => b.drift_pct, show: (b) => tenth(b.drift_pct) + (b.best_measure && b.best_measure !== 'none' ? ' to ' + tenth(b.best_drift_pct) : '') },
  { key: 'loss', head: 'Annual loss now', number: true, value: (b) => b.annual_loss, show: (b) => money(b.annual_loss) },
  { key: 'worst', head: 'Worst off, place', number: true, value: (b) => b.rank_as_is, show: (b) => (b.rank_as_is === null ? '-' : String(b.rank_as_is)) },
  { key: 'grade', head: 'Data grade', value: (b) => b.data_grade, show: (b) => b.data_grade || '-' },
  { key: 'sure', head: 'How sure', value: (b) => doubtsOf(b).length, show: (b) => doubtsOf(b).join('; ') || 'nothing to add' },
];
let order = { column: columns[0], down: false };
let found = buildings;
let drawnRows = 0;
let mapReady = false; // set by the map's part of the script
const chunk = 100;
const body = document.querySelector('#rank tbody');

for (const b of buildings) b.words = [b.building_id, b.building_name, plain(b.system), plain(b.use), measureName(b.best_measure)].join('\n').toLowerCase();

function compare(x, y) {
  const a = order.column.value(x), b = order.column.value(y);
  const none = (v) => v === null || v === undefined || v === '';
  if (none(a) || none(b)) return none(a) === none(b) ? x.rank - y.rank : none(a) ? 1 : -1; // unknown is last
  const sign = typeof a === 'number' ? a - b : a < b ? -1 : a > b ? 1 : 0;
  return (order.down ? -sign : sign) || x.rank - y.rank;
}

function tableRow(b) {
  const tr = element('tr');
  for (const c of columns) {
    if (c.row) {
      tr.append(element('th', { scope: 'row', 'data-label': c.head },
        element('a', { href: '#building-' + b.place }, owner(title(b))), ' ',
        b.building_name ? element('span', { class: 'id' }, owner(b.building_id)) : null));
    } else tr.append(element('td', { class: c.number ? 'n' : null, 'data-label': c.head }, c.show(b)));
  }
  return tr;
}

// grow appends rows until n are drawn.
function grow(n) {
  const to = Math.min(n, found.length);
  const part = document.createDocumentFragment();
  while (drawnRows < to) part.append(tableRow(found[drawnRows++]));
  body.append(part);
  $('more').hidden = drawnRows >= found.length;
}

function refresh() {
  const text = $('search').value.trim().toLowerCase().split(/\s+/).filter(Boolean);
  const measure = $('by-measure').value, grade = $('by-grade').value, doubt = $('by-doubt').value;
  found = buildings.filter((b) => text.every((t) => b.words.includes(t)) &&
    (!measure || (b.best_measure || '-') === measure) && (!grade || b.data_grade === grade) &&
    (!doubt || (doubt === 'clear' ? doubtsOf(b).length === 0 : doubt === 'deadlier' ? b.deadlier : doubt === 'tied' ? b.tied : doubt === 'doubt' ? b.best_verdict === 'doubt' : b.solver_status !== '')));
  found.sort(compare);
  body.replaceChildren();
  drawnRows = 0;
  grow(chunk);
  const sorted = order.column.head.toLowerCase();
  $('found').textContent = `${found.length.toLocaleString('en-GB')} of ${buildings.length.toLocaleString('en-GB')} buildings, by ${sorted}, ${order.down ? 'largest first' : 'smallest first'}` + (found.length === 0 ? '. Nothing fits: clear a filter.' : '.');
  if (mapReady) requestAnimationFrame(drawMap);
}

function sortBy(c) {
  order = { column: c, down: order.column === c ? !order.down : Boolean(c.number) && c.key !== 'rank' && c.key !== 'worst' };
  for (const th of document.querySelectorAll('#rank thead th')) {
    if (th.dataset.key === order.column.key) th.setAttribute('aria-sort', order.down ? 'descending' : 'ascending');
    else th.removeAttribute('aria-sort');
  }
  refresh();
}

for (const c of columns) {
  const button = element('button', { type: 'button' }, c.head);
  button.addEventListener('click', () => sortBy(c));
  document.querySelector('#rank thead tr').append(element('th', { scope: 'col', class: c.number ? 'n' : null, 'data-key': c.key, 'aria-sort': c.key === 'rank' ? 'ascending' : null }, button));
}
for (const slug of [...new Set(buildings.map((b) => b.best_measure))].sort()) $('by-measure').append(element('option', { value: slug || '-' }, upper(measureName(slug))));
for (const g of [...new Set(buildings.map((b) => b.data_grade))].filter(Boolean).sort()) $('by-grade').append(element('option', { value: g }, g));
for (const id of ['search', 'by-measure', 'by-grade', 'by-doubt']) $(id).addEventListener('input', refresh);
$('controls').addEventListener('reset', () => setTimeout(refresh));
$('controls').addEventListener('submit', (e) => e.preventDefault());
$('more').addEventListener('click', () => { const at = drawnRows; grow(drawnRows + chunk); body.rows[at]?.querySelector('a').focus(); });
if ('IntersectionObserver' in window) new IntersectionObserver((seen) => { if (seen[0].isIntersecting && drawnRows > 0) grow(drawnRows + chunk); }, { rootMargin: '300px' }).observe($('more'));

document.addEventListener('keydown', (e) => {
  const typing = /^(INPUT|SELECT|TEXTAREA)$/.test(document.activeElement?.tagName ?? '');
  if (e.key === '/' && !typing && !e.ctrlKey && !e.metaKey && !$('sheet').open) { e.preventDefault(); $('search').focus(); }
  const row = document.activeElement?.closest?.('#rank tbody tr');
  if (row && (e.key === 'ArrowDown' || e.key === 'ArrowUp')) {
    if (e.key === 'ArrowDown' && !row.nextElementSibling) grow(drawnRows + chunk);
    const to = e.key === 'ArrowDown' ? row.nextElementSibling : row.previousElementSibling;
    if (to) { e.preventDefault(); to.querySelector('a').focus(); }
  }
});
document.addEventListener('colours', () => { if (mapReady) { drawLegend(); drawMap(); } });
refresh();
