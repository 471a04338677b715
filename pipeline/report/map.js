// The map: points by longitude and latitude on a plane true to scale at the
// middle of the stock.
const canvas = $('canvas');
const metresPerDegree = 6371008.8 * Math.PI / 180; // mean radius of the Earth, IUGG
const located = buildings.filter((b) => b.lon !== null && b.lat !== null);
// A stock on both sides of the antimeridian is drawn in one piece.
const lons = located.map((b) => b.lon);
const across = lons.length > 0 && lons.reduce((a, b) => Math.max(a, b)) - lons.reduce((a, b) => Math.min(a, b)) > 180;
const lonOf = (b) => (across && b.lon < 0 ? b.lon + 360 : b.lon);
const range = (values) => values.reduce(([lo, hi], v) => [Math.min(lo, v), Math.max(hi, v)], [Infinity, -Infinity]);
const box = located.length ? { x: range(located.map(lonOf)), y: range(located.map((b) => b.lat)) } : { x: [0, 1], y: [0, 1] };
const middle = { x: (box.x[0] + box.x[1]) / 2, y: (box.y[0] + box.y[1]) / 2 };
const squeeze = Math.cos(middle.y * Math.PI / 180);
const view = { x: middle.x, y: middle.y, scale: 1 }; // centre, and pixels a degree of latitude

const quantities = [
  { name: 'Annual loss as it stands, ' + meta.money, value: (b) => b.annual_loss, show: money, log: true },
  { name: 'Storey drift as it stands, %', value: (b) => b.drift_pct, show: (v) => fixed(v, 1) },
  { name: 'Floor acceleration as it stands, g', value: (b) => b.floor_accel_g, show: (v) => fixed(v, 2) },
  { name: 'Collapse prevention exceeded, times a year', value: (b) => b.collapse_prevention_per_yr, show: two, log: true },
  { name: 'Net benefit of the first choice, ' + meta.money, value: (b) => b.best_net_benefit, show: money },
  { name: 'Data grade, A to D', value: (b) => (b.data_grade ? 'ABCD'.indexOf(b.data_grade) : null), show: (v) => 'ABCD'[Math.round(v)], span: [0, 3] },
];
let quantity = quantities[0];

// scaleOf returns from a value to 0 to 1, and the values at the ends.
function scaleOf(q) {
  const known = located.map(q.value).filter((v) => v !== null && (!q.log || v > 0));
  if (!known.length) return null;
  let [lo, hi] = q.span ?? range(known);
  if (q.log) lo = Math.max(lo, hi / 1e4);
  if (lo === hi) hi = lo + (Math.abs(lo) || 1);
  const f = q.log ? (v) => Math.log(Math.max(v, lo) / lo) / Math.log(hi / lo) : (v) => (v - lo) / (hi - lo);
  const at = (t) => (q.log ? lo * (hi / lo) ** t : lo + t * (hi - lo));
  return { of: (v) => Math.min(1, Math.max(0, f(v))), at };
}
function colour(t) {
  const x = t * (meta.viridis.length - 1), i = Math.min(Math.floor(x), meta.viridis.length - 2), f = x - i;
  return `rgb(${meta.viridis[i].map((c, k) => Math.round(c + f * (meta.viridis[i + 1][k] - c))).join(' ')})`;
}

// Marks by measure, as in the charts; hollow ones pair a measure with strengthening.
const marks = new Map(meta.marks.map((m) => [m.measure, m]));
function drawMark(c, measure, x, y, r, fill, ink) {
  const mark = marks.get(measure) ?? marks.get('');
  c.beginPath();
  for (const line of mark.lines) {
    line.forEach(([dx, dy], i) => (i ? c.lineTo(x + dx * r, y - dy * r) : c.moveTo(x + dx * r, y - dy * r)));
    if (mark.closed) c.closePath();
  }
  if (mark.closed && !mark.hollow) { c.fillStyle = fill; c.fill(); c.lineWidth = 1; c.strokeStyle = ink; c.stroke(); return; }
  const width = mark.closed ? 2.5 : 3;
  c.lineWidth = width + (mark.closed ? 1.5 : 2); c.strokeStyle = ink; c.stroke(); c.lineWidth = width; c.strokeStyle = fill; c.stroke();
}

const size = () => ({ w: canvas.clientWidth, h: canvas.clientHeight });
const onScreen = (b) => { const { w, h } = size(); return [w / 2 + (lonOf(b) - view.x) * squeeze * view.scale, h / 2 - (b.lat - view.y) * view.scale]; };
const nice = (v) => { const p = 10 ** Math.floor(Math.log10(v)); return v / p >= 5 ? 5 * p : v / p >= 2 ? 2 * p : p; };
function fit() {
  moving = false;
  const { w, h } = size();
  const sx = (w - 90) / Math.max((box.x[1] - box.x[0]) * squeeze, 1e-4), sy = (h - 90) / Math.max(box.y[1] - box.y[0], 1e-4);
  Object.assign(view, { ...middle, scale: Math.min(sx, sy) });
}
let moving = false; // the reader has moved the map: leave it
const limit = (s) => Math.min(5e6, Math.max(2, s));

const css = (name) => getComputedStyle(document.documentElement).getPropertyValue(name).trim();

function drawGrid(c, w, h, line, dim) {
  c.strokeStyle = line; c.fillStyle = dim; c.lineWidth = 1; c.font = '11px system-ui, sans-serif';
  const label = (v, pos, neg, step) => { const x = ((v + 540) % 360) - 180; return `${Math.abs(pos === 'E' ? x : v).toFixed(Math.max(0, -Math.floor(Math.log10(step))))}° ${(pos === 'E' ? x : v) < 0 ? neg : pos}`; };
  const step = nice(160 / view.scale);
  for (let lat = Math.ceil((view.y - h / 2 / view.scale) / step) * step; lat < view.y + h / 2 / view.scale; lat += step) {
    const y = h / 2 - (lat - view.y) * view.scale;
    c.beginPath(); c.moveTo(0, y); c.lineTo(w, y); c.stroke();
    if (y > 14 && y < h - 50) c.fillText(label(lat, 'N', 'S', step), 4, y - 3);
  }
  const stepX = nice(160 / view.scale / squeeze);
  for (let lon = Math.ceil((view.x - w / 2 / view.scale / squeeze) / stepX) * stepX; lon < view.x + w / 2 / view.scale / squeeze; lon += stepX) {
    const x = w / 2 + (lon - view.x) * squeeze * view.scale;
    c.beginPath(); c.moveTo(x, 0); c.lineTo(x, h); c.stroke();
    if (x > 40 && x < w - 190) c.fillText(label(lon, 'E', 'W', stepX), x + 3, h - 6);
  }
}

function drawScaleBar(c, w, h, ink, paper) {
  const metres = nice(150 / view.scale * metresPerDegree), length = metres / metresPerDegree * view.scale;
  const text = metres >= 1000 ? `${metres / 1000} km` : `${metres} m`;
  c.fillStyle = paper; c.fillRect(w - length - 28, h - 34, length + 20, 28);
  c.strokeStyle = ink; c.lineWidth = 2; c.beginPath();
  c.moveTo(w - 18 - length, h - 18); c.lineTo(w - 18 - length, h - 12); c.lineTo(w - 18, h - 12); c.lineTo(w - 18, h - 18); c.stroke();
  c.fillStyle = ink; c.font = '12px system-ui, sans-serif'; c.textAlign = 'center'; c.fillText(text, w - 18 - length / 2, h - 19); c.textAlign = 'left';
}

function drawMap() {
  const { w, h } = size();
  if (!w || !h) return;
  const dpr = window.devicePixelRatio || 1;
  if (canvas.width !== Math.round(w * dpr) || canvas.height !== Math.round(h * dpr)) { canvas.width = Math.round(w * dpr); canvas.height = Math.round(h * dpr); }
  const c = canvas.getContext('2d');
  c.setTransform(dpr, 0, 0, dpr, 0, 0);
  c.clearRect(0, 0, w, h);
  const ink = css('--ink'), paper = css('--paper');
  drawGrid(c, w, h, css('--line'), css('--dim'));
  const scale = scaleOf(quantity), shown = new Set(found);
  const edge = dark() ? '#000000' : '#ffffff';
  for (let i = located.length - 1; i >= 0; i--) { // the foremost last, on top
    const b = located[i], [x, y] = onScreen(b);
    if (x < -20 || y < -20 || x > w + 20 || y > h + 20) continue;
    const v = quantity.value(b);
    c.globalAlpha = shown.has(b) ? 1 : 0.12;
    drawMark(c, b.best_measure, x, y, b.rank <= 10 ? 8 : 6, v === null || !scale ? paper : colour(scale.of(v)), dark() ? '#f0f0f0' : '#202020');
  }
  c.globalAlpha = 1;
  c.font = '600 12px system-ui, sans-serif'; c.lineWidth = 3; c.lineJoin = 'round';
  for (const b of located) {
    if (b.rank > 10 || !shown.has(b)) continue;
    const [x, y] = onScreen(b);
    c.strokeStyle = edge; c.strokeText(b.rank, x + 10, y - 6); c.fillStyle = ink; c.fillText(b.rank, x + 10, y - 6);
  }
  drawScaleBar(c, w, h, ink, paper);
}

function drawLegend() {
  const scale = scaleOf(quantity), legend = $('legend');
  const parts = [];
  if (scale) {
    const ramp = element('i');
    ramp.style.background = `linear-gradient(to right, ${[0, 0.2, 0.4, 0.6, 0.8, 1].map(colour).join(', ')})`;
    parts.push(element('div', { class: 'ramp' }, quantity.name, ramp, element('span', null, ...[0, 0.5, 1].map((t) => element('b', null, quantity.show(scale.at(t)))))));
    if (quantity.log) parts[0].append('even steps of colour are equal ratios');
  }
  const list = element('div', { class: 'shapes' });
  for (const slug of marks.keys()) {
    if (!located.some((b) => b.best_measure === slug)) continue;
    const icon = element('canvas', { width: 36, height: 36, 'aria-hidden': 'true' }), c = icon.getContext('2d');
    c.scale(2, 2);
    drawMark(c, slug, 9, 9, 6, dark() ? '#5a6a78' : '#b9c4cd', dark() ? '#f0f0f0' : '#202020');
    list.append(element('span', { class: 'shape' }, icon, measureName(slug)));
  }
  legend.replaceChildren(...parts, list);
}

function nearest(x, y) {
  let best = null, reach = 16 * 16;
  for (const b of located) {
    const [bx, by] = onScreen(b), d = (bx - x) ** 2 + (by - y) ** 2;
    if (d < reach) { reach = d; best = b; }
  }
  return best;
}
function zoom(by, x, y) {
  moving = true;
  const { w, h } = size(), to = limit(view.scale * by), ratio = 1 / view.scale - 1 / to;
  view.x += ((x ?? w / 2) - w / 2) * ratio / squeeze;
  view.y -= ((y ?? h / 2) - h / 2) * ratio;
  view.scale = to;
  drawMap();
}
function pan(dx, dy) { moving = true; view.x -= dx / view.scale / squeeze; view.y += dy / view.scale; drawMap(); }

const fingers = new Map();
let moved = 0;
const place = (e) => { const r = canvas.getBoundingClientRect(); return [e.clientX - r.left, e.clientY - r.top]; };
canvas.addEventListener('pointerdown', (e) => { canvas.setPointerCapture(e.pointerId); fingers.set(e.pointerId, place(e)); moved = 0; });
canvas.addEventListener('pointermove', (e) => {
  const [x, y] = place(e), before = fingers.get(e.pointerId);
  if (!before) {
    const b = nearest(x, y);
    $('tip').replaceChildren(...(b ? [`Rank ${b.rank}: `, owner(title(b)), `. ${upper(measureName(b.best_measure))}. ${quantity.name}: ${quantity.value(b) === null ? '-' : quantity.show(quantity.value(b))}`] : []));
    canvas.style.cursor = b ? 'pointer' : 'grab';
    return;
  }
  const other = [...fingers.entries()].find(([id]) => id !== e.pointerId)?.[1];
  fingers.set(e.pointerId, [x, y]);
  moved += Math.abs(x - before[0]) + Math.abs(y - before[1]);
  if (other) {
    const far = (p) => Math.hypot(p[0] - other[0], p[1] - other[1]);
    zoom(far([x, y]) / Math.max(1, far(before)), (x + other[0]) / 2, (y + other[1]) / 2);
  } else pan(x - before[0], y - before[1]);
});
for (const end of ['pointerup', 'pointercancel']) canvas.addEventListener(end, (e) => {
  if (end === 'pointerup' && moved < 6 && fingers.size === 1) { const b = nearest(...place(e)); if (b) location.hash = 'building-' + b.place; }
  fingers.delete(e.pointerId);
});
canvas.addEventListener('wheel', (e) => { if (!e.ctrlKey && document.activeElement !== canvas) return; e.preventDefault(); zoom(e.deltaY < 0 ? 1.25 : 0.8, ...place(e)); }, { passive: false });
canvas.addEventListener('keydown', (e) => {
  const act = { ArrowLeft: () => pan(60, 0), ArrowRight: () => pan(-60, 0), ArrowUp: () => pan(0, 60), ArrowDown: () => pan(0, -60),
    '+': () => zoom(1.5), '=': () => zoom(1.5), '-': () => zoom(1 / 1.5), 0: () => { fit(); drawMap(); } }[e.key];
  if (act) { e.preventDefault(); act(); }
});
$('zoom-in').addEventListener('click', () => zoom(1.5));
$('zoom-out').addEventListener('click', () => zoom(1 / 1.5));
$('zoom-fit').addEventListener('click', () => { fit(); drawMap(); });
quantities.forEach((q, i) => $('colour').append(element('option', { value: i }, q.name)));
$('colour').addEventListener('input', () => { quantity = quantities[$('colour').value]; drawLegend(); drawMap(); });
if (located.length < buildings.length) $('unlocated').textContent = `${buildings.length - located.length} buildings have no coordinates and are not on the map.`;
new ResizeObserver(() => { if (!moving) fit(); drawMap(); }).observe(canvas);
fit();
mapReady = true;
drawLegend();
drawMap();
