// The moving picture: one building under one record, every stand at the same moment. A
// position between two frames lies straight between theirs; nothing else is made up here.
const films = stock.films;
const calm = matchMedia('(prefers-reduced-motion: reduce)');
const space = 'http://www.w3.org/2000/svg';
const wide = 320, high = 306, foot = 290, tall = 236, half = 60; // of the picture and the building in it
let film, stands, at = 0, still = true, playing = false, slow = false, last;

// shape makes a part of a picture.
function shape(parent, tag, attributes) {
  const e = document.createElementNS(space, tag);
  for (const [k, v] of Object.entries(attributes)) e.setAttribute(k, v);
  parent.append(e);
  return e;
}

// between returns a list's value at a frame that need not be whole; the last beyond its end.
function between(list, frame) {
  const i = Math.min(Math.floor(frame), list.length - 1), j = Math.min(i + 1, list.length - 1);
  return list[i] + (frame - Math.floor(frame)) * (list[j] - list[i]);
}
const second = (frame) => film.start + frame / film.rate; // of the record
const upTo = (list, frame) => list.slice(0, Math.floor(frame) + 1).reduce((a, b) => Math.max(a, b), 0);
const number = (v, digits) => v.toFixed(digits).replace('-', '\u2212');

// level returns the movement of floor k in m: 0 is the ground floor.
function level(s, k, frame) {
  const i = s.isolated ? k : k - 1;
  return i < 0 ? 0 : between(s.move[i], frame) * film.unit;
}

// build makes the pictures of a film.
function build(f) {
  film = f;
  const top = f.levels.at(-1), o = f.object;
  const lens = Math.min(200, 90 / o.height); // of the object, a metre
  stands = f.stands.map((s) => {
    const svg = document.createElementNS(space, 'svg');
    svg.setAttribute('viewBox', `0 0 ${wide} ${high}`);
    svg.setAttribute('aria-hidden', 'true');
    shape(svg, 'path', { class: 'rest', d: frameOf(s, () => 0) });
    shape(svg, 'path', { class: 'earth', d: `M${-wide},${foot}H${2 * wide}` });
    const close = document.createElementNS(space, 'svg');
    close.setAttribute('viewBox', `0 0 ${wide} 130`);
    close.setAttribute('aria-hidden', 'true');
    const numbers = element('dl');
    const say = (name) => { const d = element('dd'); numbers.append(element('div', null, element('dt', null, name), d)); return d; };
    const out = {
      s, svg, isolators: shape(svg, 'path', { class: 'isolators' }), devices: shape(svg, 'path', { class: 'devices' }),
      frame: shape(svg, 'path', { class: s.kind === 'strengthening' ? 'frame strong' : 'frame' }), mass: shape(svg, 'path', { class: 'mass' }), mark: shape(svg, 'circle', { class: 'mark', r: 5 }),
      close, floor: shape(close, 'path', { class: 'frame' }), object: shape(close, 'rect', { class: 'object', x: -o.width * lens / 2, y: -o.height * lens, width: o.width * lens, height: o.height * lens }), lens,
      drift: say('Storey drift'), accel: say('Floor acceleration'), iso: s.isolated ? say('Isolators moved') : null, free: say('Object'), word: element('p', { class: 'word' }),
    };
    out.node = element('div', { class: 'stand' }, element('h3', null, s.name), svg, close, numbers, out.word);
    return out;
  });
  $('title').textContent = f.title;
  $('stage').replaceChildren(...stands.map((s) => s.node));
  const floor = o.floor === 0 ? 'the ground floor' : `floor ${o.floor} above the ground`;
  $('scale').textContent = `Movements of the building are drawn ${f.factor} times as large as they are; its ${number(top, 1)} m of height are to scale, its width is not. Below it an object of ${number(o.width, 2)} by ${number(o.height, 2)} m that stands free on ${floor}, to scale and nothing enlarged; it ${o.first} from ${number(o.at, 2)} g on.`;
  $('which').replaceChildren('Record: ', element('bdi', null, f.record), `; ${number(f.rate, 0)} positions a second. ${f.start > 0 || second(f.frames) < f.length - 0.5 ? `The page has room for the ${number(f.frames / f.rate, 0)} of its ${number(f.length, 0)} s around the largest drift as it stands.` : ''}`);
  $('time').max = f.frames - 1;
  rest();
}

// frameOf returns floors and columns as a path, from the movement of each floor in m.
function frameOf(s, move) {
  const scale = tall / film.levels.at(-1), floors = [];
  film.levels.forEach((h, k) => { if (k > 0 || s.isolated) floors.push([wide / 2 + move(k) * scale * film.factor, foot - (s.isolated ? 16 : 0) - h * scale]); });
  if (!s.isolated) floors.unshift([wide / 2, foot]);
  const side = (by) => 'M' + floors.map(([x, y]) => `${(x + by).toFixed(1)},${y.toFixed(1)}`).join('L');
  return side(-half) + side(half) + floors.map(([x, y]) => `M${(x - half).toFixed(1)},${y.toFixed(1)}h${2 * half}`).join('');
}

// devicesOf returns what braces the storeys, if something does.
function devicesOf(s, frame) {
  if (!/viscous|yielding/.test(s.kind)) return '';
  const scale = tall / film.levels.at(-1), x = (k) => wide / 2 + level(s, k, frame) * scale * film.factor, y = (k) => foot - film.levels[k] * scale;
  return film.levels.slice(1).map((h, k) => `M${(x(k) - half).toFixed(1)},${y(k).toFixed(1)}L${(x(k + 1) + half).toFixed(1)},${y(k + 1).toFixed(1)}`).join('');
}

// draw shows one moment.
function draw() {
  const scale = tall / film.levels.at(-1), o = film.object, whole = Math.floor(at);
  for (const d of stands) {
    const s = d.s, x = (k) => wide / 2 + level(s, k, at) * scale * film.factor;
    d.frame.setAttribute('d', frameOf(s, (k) => level(s, k, at)));
    d.devices.setAttribute('d', devicesOf(s, at));
    d.isolators.setAttribute('d', !s.isolated ? '' : [-half + 8, 0, half - 8].map((b) => `M${wide / 2 + b - 8},${foot}h16L${(x(0) + b + 8).toFixed(1)},${foot - 16}h-16Z`).join(''));
    if (s.mass) d.mass.setAttribute('d', `M${(wide / 2 + between(s.mass, at) * film.unit * scale * film.factor - 14).toFixed(1)},${foot - tall - 24}h28v18h-28Z`);
    d.mark.setAttribute('cx', x(o.floor)); d.mark.setAttribute('cy', foot - (s.isolated ? 16 : 0) - film.levels[o.floor] * scale - 5);
    const floor = wide / 2 + level(s, o.floor, at) * d.lens, slide = between(s.slide, at) / 1000, tilt = between(s.tilt, at) / 1000;
    d.floor.setAttribute('d', `M${-wide},110H${2 * wide}` + Array.from({ length: 41 }, (_, i) => `M${(floor + (i - 20) * d.lens / 2).toFixed(1)},110v6`).join(''));
    const edge = Math.sign(tilt) * o.width * d.lens / 2;
    d.object.setAttribute('transform', `translate(${(floor + slide * d.lens).toFixed(2)},109) rotate(${(tilt * 180 / Math.PI).toFixed(2)},${edge.toFixed(2)},0)`);
    const i = Math.min(whole, s.drift.length - 1);
    d.drift.textContent = `${number(s.drift[i] / 1000, 2)} % (so far ${number(upTo(s.drift, at) / 1000, 2)} %)`;
    d.accel.textContent = `${number(s.accel[i] / 1000, 2)} g (so far ${number(upTo(s.accel, at) / 1000, 2)} g)`;
    if (d.iso) d.iso.textContent = `${number(Math.abs(level(s, 0, at)) * 100, 0)} cm`;
    const most = upTo(s.tilt.map(Math.abs), at);
    d.free.textContent = most > 1500 ? 'has fallen' : most > 0 ? (tilt === 0 ? 'has rocked, and stands' : 'rocks') : upTo(s.slide.map(Math.abs), at) > 0 ? `has slid ${number(Math.abs(slide) * 100, 0)} cm` : 'stands still';
    d.word.textContent = s.collapsed && whole >= s.drift.length - 1 ? 'Comes down by this model: the calculation ends here.' : '';
  }
  $('clock').textContent = `${number(second(whole), 2)} s of ${number(second(film.frames - 1), 1)} s`;
  $('time').value = whole;
  $('time').setAttribute('aria-valuetext', `${number(second(whole), 2)} seconds`);
}

// say names the state for who does not see it.
function say() {
  $('play').textContent = playing ? 'Pause' : calm.matches ? 'Play anyway' : 'Play';
  const moment = `${number(second(Math.floor(at)), 2)} s`;
  $('state').textContent = playing ? (slow ? 'Playing at a quarter of the speed.' : 'Playing at the speed it happens.') : still ? `Still: the moment of the largest drift as it stands, ${moment}.` : `Paused at ${moment}.`;
}
function pause() { playing = false; say(); }
// rest shows the still.
function rest() { at = film.still; still = true; pause(); draw(); }
function play() {
  if (still || at >= film.frames - 1) at = 0;
  still = false; playing = true; last = undefined;
  say();
  requestAnimationFrame(step);
}
function step(now) {
  if (!playing) return;
  if (last !== undefined) at += (now - last) / 1000 * film.rate * (slow ? 0.25 : 1);
  last = now;
  if (at >= film.frames - 1) { at = film.frames - 1; pause(); }
  draw();
  if (playing) requestAnimationFrame(step);
}

if (films.length > 0) {
  films.forEach((f, i) => $('building').append(element('option', { value: i }, f.title)));
  $('building').parentElement.hidden = films.length < 2;
  $('building').addEventListener('input', () => build(films[$('building').value]));
  $('play').addEventListener('click', () => (playing ? pause() : play()));
  $('slow').addEventListener('click', () => { slow = !slow; $('slow').setAttribute('aria-pressed', slow); say(); });
  $('rest').addEventListener('click', rest);
  $('time').addEventListener('input', () => { at = Number($('time').value); still = false; pause(); draw(); });
  $('film').addEventListener('keydown', (e) => {
    if (e.target === $('film') && e.key === ' ') { e.preventDefault(); $('play').click(); }
  });
  calm.addEventListener('change', () => { if (calm.matches) rest(); else say(); });
  addEventListener('beforeprint', rest);
  build(films[0]);
}
