// One building in full, in a dialog that the address names, so that a link can
// be sent.
const sheet = $('sheet');
let open = -1; // place of the building shown

const fact = (name, value) => (value === '' || value === '-' || value === null || value === undefined ? null : element('div', null, element('dt', null, name), element('dd', null, value)));
const onceIn = (f) => (f === null ? '-' : f > 0 ? `once in ${two(1 / f)} years` : 'not within the levels computed');
const range3 = (low, likely, high) => (likely === null ? '-' : `${money(likely)} (${money(low)} to ${money(high)})`);
const verdictWords = { clear: 'no rule against it', note: 'for the design to settle', missing: 'facts missing', doubt: 'study first', bar: 'does not fit' };

// levels draws one quantity as it stands and with each measure, to one scale.
function levels(name, digits, now, after, best) {
  const all = [['as it stands', now, 'now'], ...after.map(([slug, v]) => [measureName(slug), v, slug === best ? 'best' : 'other'])];
  const most = Math.max(...all.map(([, v]) => v ?? 0), 1e-9);
  const out = element('div', null, element('h4', null, name));
  for (const [label, v, kind] of all) {
    const bar = element('i', { 'aria-hidden': 'true' });
    bar.style.width = `${100 * (v ?? 0) / most}%`;
    out.append(element('div', { class: 'level ' + kind }, element('span', null, upper(label) + (kind === 'best' ? ' (first choice)' : '')), element('b', null, fixed(v, digits)), bar));
  }
  return out;
}

function tableOf(caption, heads, rows) {
  const t = element('table', { class: 'plain' }, element('caption', null, caption),
    element('thead', null, element('tr', null, ...heads.map(([h, n]) => element('th', { scope: 'col', class: n ? 'n' : null }, h)))));
  t.append(element('tbody', null, ...rows.map((r) => element('tr', null, ...r.map((cell, i) => element(i ? 'td' : 'th', { scope: i ? null : 'row', class: heads[i][1] ? 'n' : null, 'data-label': heads[i][0] }, cell))))));
  return t;
}

function fill(b) {
  const own = candidates.get(b.building_id) ?? [], rules = verdicts.get(b.building_id) ?? [];
  const parts = [];
  parts.push(element('p', { class: 'eyebrow' }, `Rank ${b.rank}; place ${b.rank_as_is ?? '-'} by annual loss as it stands; data grade ${b.data_grade || '-'}`));
  parts.push(element('h2', { id: 'sheet-title' }, owner(title(b)), ' ', b.building_name ? element('span', { class: 'id' }, owner(b.building_id)) : ''));
  const best = own.find((c) => c.measure === b.best_measure);
  parts.push(element('p', { class: 'headline' }, b.best_measure === 'none' || !b.best_measure
    ? upper(measureName(b.best_measure)) + ' comes first: no measure scores above it. That is no finding that the building is safe.'
    : `${upper(measureName(b.best_measure))}, for about ${money(b.best_cost_likely)} ${meta.money} (${money(b.best_cost_low)} to ${money(b.best_cost_high)}); net benefit about ${money(b.best_net_benefit)} ${meta.money}.`
      + (b.tied ? ` Not told apart from the second, ${measureName(b.runner_up)}.` : b.runner_up ? ` Second: ${measureName(b.runner_up)}.` : '')));
  const notes = [];
  if (b.deadlier) notes.push('By these numbers the first choice saves money and no lives: expected deaths rise. Look at why before anything else.');
  if (b.hazard_status) notes.push('Shaking: ' + b.hazard_status + '.');
  if (b.solver_status) notes.push('Numbers: ' + b.solver_status + '.');
  if (b.assumed_fields) notes.push('Assumed, not given: ' + plain(b.assumed_fields.replaceAll('_', ' ')) + '.');
  notes.push(document.querySelector('#answer .warn p').textContent);
  parts.push(element('ul', { class: 'warn' }, ...notes.map((n) => element('li', null, n))));
  parts.push(element('h3', null, 'In the shaking of the design return period'));
  const with_ = (key) => own.map((c) => [c.measure, c[key]]);
  parts.push(element('div', { class: 'compare' },
    levels('Largest storey drift, % of storey height', 2, b.drift_pct, with_('drift_after_pct'), b.best_measure),
    levels('Largest floor acceleration, g', 2, b.floor_accel_g, with_('floor_accel_after_g'), b.best_measure),
    levels('Base shear over weight', 2, b.base_shear_ratio, with_('base_shear_after_ratio'), b.best_measure)));
  if (own.length) {
    parts.push(tableOf(`Measures that may be chosen, best first. Money in ${meta.money}; deaths and days over the life of the plan.`,
      [['Measure'], ['Likely cost (low to high)', 1], ['Net benefit', 1], ['Annual loss with it', 1], ['Deaths avoided', 1], ['Days closed avoided', 1], ['Weeks of works', 1], ['Fit']],
      own.map((c) => [upper(measureName(c.measure)), range3(c.cost_low, c.cost_likely, c.cost_high), money(c.net_benefit), money(c.annual_loss_after), two(c.deaths_avoided), two(c.days_closed_avoided), two(c.disruption_weeks), verdictWords[c.verdict] ?? c.verdict])));
    parts.push(element('h3', null, 'What would be built'));
    parts.push(element('ul', null, ...own.map((c) => element('li', null, element('strong', null, upper(measureName(c.measure)) + ': '), c.design || (b.place < meta.reasons ? 'not sized' : 'sized in the file candidates.csv'), c.period_after_s === null ? '' : `; first period ${fixed(b.period_s, 2)} s to ${fixed(c.period_after_s, 2)} s`, c.isolator_displacement_m === null ? '' : `; isolators move ${fixed(c.isolator_displacement_m, 2)} m`, c.solver_status ? `. Numbers: ${c.solver_status}` : ''))));
  } else parts.push(element('p', null, 'No measure of the plan may be chosen here.'));
  const against = [...(b.why_not ? b.why_not.split(/; (?=Not |Before )/) : [])];
  if (best?.verdict_reason) against.unshift(best.verdict_reason);
  if (against.length) parts.push(element('h3', null, 'Why not, or not yet'), element('ul', null, ...against.map((w) => element('li', null, w))));
  if (rules.length) {
    parts.push(tableOf('Every rule that is not clear.', [['Measure'], ['Verdict'], ['Finding'], ['Source of the limit']],
      rules.map((v) => [upper(measureName(v.measure)), verdictWords[v.verdict] ?? v.verdict, v.sentence, meta.sources[v.rule]])));
  } else if (b.place >= meta.reasons) parts.push(element('p', { class: 'dim' }, 'Why not other measures, and the rules one by one, are in the files buildings.csv and verdicts.csv.'));
  parts.push(element('h3', null, 'As it stands'));
  parts.push(element('dl', { class: 'facts' }, ...[
    fact('Structure', plain(b.system)), fact('Built', b.year), fact('Storeys', b.storeys), fact('Height', fixed(b.height_m, 1) + ' m'), fact('Floor area', two(b.floor_area_m2) + ' m\u00b2'),
    fact('Use', plain(b.use)), fact('Ground', b.site_class && 'class ' + b.site_class), fact('People inside, average', two(b.occupants)), fact('Cost to build anew', `${money(b.replacement_value)} ${meta.money}`),
    fact('First period', fixed(b.period_s, 2) + ' s'), fact('Strength: yield base shear over weight', two(b.strength_ratio)), fact('Spectral acceleration at first period', two(b.design_sa_g) + ' g'),
    fact('Annual loss', `${money(b.annual_loss)} ${meta.money}`), fact('Deaths a year, expected', two(b.fatalities_per_yr)),
    fact('Beyond immediate occupancy', onceIn(b.immediate_occupancy_per_yr)), fact('Beyond life safety', onceIn(b.life_safety_per_yr)), fact('Beyond collapse prevention', onceIn(b.collapse_prevention_per_yr)),
    fact('Place', b.lon === null ? '' : `${fixed(b.lat, 5)}, ${fixed(b.lon, 5)} (lat, lon)`),
  ].filter(Boolean)));
  $('sheet-body').replaceChildren(...parts);
}

function show(place) {
  open = place;
  fill(buildings[place]);
  const at = found.indexOf(buildings[place]);
  $('previous').disabled = at === 0; $('next').disabled = at === found.length - 1;
  if (!sheet.open) sheet.showModal();
  sheet.scrollTop = 0;
}
function step(by) {
  const at = found.indexOf(buildings[open]) + by;
  if (at >= 0 && at < found.length) location.replace('#building-' + found[at].place);
}
function follow() {
  const m = /^#building-(\d+)$/.exec(location.hash);
  if (m && buildings[m[1]]) show(Number(m[1]));
  else if (sheet.open) sheet.close();
}
sheet.addEventListener('close', () => { if (/^#building-/.test(location.hash)) history.replaceState(null, '', '#ranking'); });
sheet.addEventListener('click', (e) => { if (e.target === sheet) sheet.close(); });
$('close').addEventListener('click', () => sheet.close());
$('previous').addEventListener('click', () => step(-1));
$('next').addEventListener('click', () => step(1));
$('print').addEventListener('click', () => window.print());
addEventListener('hashchange', follow);
follow();

// Paper shows the first rows whatever has been scrolled to.
addEventListener('beforeprint', () => { document.body.classList.toggle('one-building', sheet.open); grow(chunk); });
addEventListener('afterprint', () => document.body.classList.remove('one-building'));
