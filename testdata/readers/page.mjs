// Opens a report.html in Chromium, without a network, as a reader would: it must
// load without a word on the console, sort, search, filter, answer to the
// keyboard, show a building, draw its map, fit a phone and print.
//
//   node page.mjs report.html [folder for pictures]
//
// See browser.mjs for what it needs.
import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { read } from './browser.mjs'

const pictures = process.argv[3]

await read(process.argv[2], pictures, async ({ page, expect, picture, at, fits, named }) => {
  const column = (key) => page.$$eval('#rank tbody tr', (rows, k) => {
    const at = [...document.querySelectorAll('#rank thead th')].findIndex((th) => th.dataset.key === k)
    return rows.map((r) => r.children[at].textContent)
  }, key)
  const number = (s) => (s === '-' ? NaN : Number(s.replaceAll(',', '').replace('\u2212', '-')))
  const rows = () => page.$$eval('#rank tbody tr', (r) => r.length)

  await fits('desktop')
  const total = await page.evaluate(() => buildings.length)
  expect(await rows() === Math.min(total, 100), 'the first rows are not there')
  await picture('first')
  const paint = await page.evaluate(() => Math.round(performance.getEntriesByName('first-contentful-paint')[0]?.startTime ?? NaN))
  // spent returns the milliseconds until a change is on the screen.
  const spent = (id, event) => page.evaluate(([i, e]) => new Promise((done) => {
    const from = performance.now()
    document.querySelector(i).dispatchEvent(new Event(e, { bubbles: true }))
    requestAnimationFrame(() => setTimeout(() => done(Math.round(performance.now() - from))))
  }), [id, event])
  console.log(`${total} buildings: first paint after ${paint} ms, a sort ${await spent('#rank th[data-key="loss"] button', 'click')} ms, a filter ${await spent('#search', 'input')} ms`)

  // The order of a column, largest first and then smallest.
  for (const down of [true, false]) {
    await page.click('#rank th[data-key="cost"] button')
    const v = (await column('cost')).map(number).filter((x) => !Number.isNaN(x))
    expect(v.every((x, i) => i === 0 || (down ? v[i - 1] >= x : v[i - 1] <= x)), `cost is not sorted, down ${down}`)
    expect(await page.getAttribute('#rank th[data-key="cost"]', 'aria-sort') === (down ? 'descending' : 'ascending'), 'aria-sort')
  }
  await page.click('#rank th[data-key="rank"] button')

  // Search from the keyboard alone.
  const some = await page.evaluate(() => buildings[Math.min(3, buildings.length - 1)])
  await page.keyboard.press('/')
  expect(await page.evaluate(() => document.activeElement.id) === 'search', 'the key / does not lead to the search')
  const started = Date.now()
  await page.keyboard.insertText(some.building_id)
  const found = await page.textContent('#found')
  expect((await rows()) >= 1 && (await rows()) <= total, 'search finds nothing')
  expect(Date.now() - started < 5000, `search took ${Date.now() - started} ms`) // wide: a busy machine is no fault of the page
  expect(/^\d/.test(found), 'the number found is not told')
  await page.fill('#search', 'no such building anywhere')
  expect(await rows() === 0 && (await page.textContent('#found')).includes('clear a filter'), 'an empty search does not say so')
  await page.click('#controls button[type=reset]')
  await page.waitForTimeout(50)
  const measure = await page.evaluate(() => buildings[0].best_measure)
  await page.selectOption('#by-measure', measure || '-')
  const want = await page.evaluate((m) => buildings.filter((b) => b.best_measure === m).length, measure)
  expect((await page.textContent('#found')).startsWith(want.toLocaleString('en-GB') + ' of'), 'the filter by measure')
  await page.click('#controls button[type=reset]')
  await page.waitForTimeout(50)

  // Down the rows, into one and out again.
  await page.focus('#rank tbody a')
  await page.keyboard.press('ArrowDown')
  await page.keyboard.press('Enter')
  await page.waitForTimeout(100)
  expect(await page.evaluate(() => document.getElementById('sheet').open), 'Enter does not open a building')
  expect(await page.$$eval('#sheet .level', (l) => l.length) >= 3, 'no bars')
  await picture('building')
  const title = await page.textContent('#sheet-title')
  if (total > 2) { await page.click('#next'); await page.waitForTimeout(100); expect(await page.textContent('#sheet-title') !== title, 'the next building') }
  if (pictures) await page.pdf({ path: join(pictures, 'building.pdf'), preferCSSPageSize: true })
  await page.keyboard.press('Escape')
  await page.waitForTimeout(100)
  expect(!await page.evaluate(() => document.getElementById('sheet').open), 'Esc does not close')

  // The map is drawn, zooms and tells of a building under the pointer.
  await at('map')
  await picture('map')
  const colours = () => page.evaluate(() => { const c = document.getElementById('canvas'), d = c.getContext('2d').getImageData(0, 0, c.width, c.height).data, s = new Set(); for (let i = 0; i < d.length; i += 4) s.add(d[i] << 16 | d[i + 1] << 8 | d[i + 2]); return s.size })
  expect(await colours() > 10, 'the map is empty')
  const scale = await page.evaluate(() => view.scale)
  await page.focus('#canvas'); await page.keyboard.press('+')
  expect(await page.evaluate(() => view.scale) > scale, 'plus does not zoom')
  await page.keyboard.press('0')
  const place = () => page.evaluate(() => { const b = located[0]; if (!b) return null; const [x, y] = onScreen(b), r = canvas.getBoundingClientRect(); return [r.left + x, r.top + y] })
  // The page may still be drawing: the pointer comes again until the map has answered, for a second.
  let point = await place(), told = !point
  for (let i = 0; i < 10 && !told; i++, point = await place()) {
    await page.mouse.move(...point)
    told = (await page.textContent('#tip')).startsWith('Rank')
    if (!told) { await page.mouse.move(point[0] + 40, point[1] + 40); await page.waitForTimeout(100) }
  }
  expect(told, 'the map does not name a building')
  for (let i = 0; i < await page.$$eval('#colour option', (o) => o.length); i++) await page.selectOption('#colour', String(i))
  for (const id of ['charts', 'data', 'cautions']) if (await page.$('#' + id)) { await at(id); await picture(id) }

  // The names beside the intervals of ranks lead to their buildings.
  const name = page.locator('figure.wide a').nth(1)
  if (await name.count()) {
    await name.focus(); await page.keyboard.press('Enter')
    await page.waitForTimeout(100)
    expect(await page.evaluate(() => document.getElementById('sheet').open && open === 1), 'a name of the chart of intervals does not lead to its building')
    await page.keyboard.press('Escape')
    await page.waitForTimeout(100)
  }

  // Dark, phone and paper.
  await page.emulateMedia({ colorScheme: 'dark' })
  await at('answer'); await picture('dark')
  await page.click('#theme')
  expect(await page.evaluate(() => document.documentElement.dataset.theme) === 'light', 'the button for colours')
  await page.setViewportSize({ width: 390, height: 844 })
  await page.waitForTimeout(100)
  await fits('phone')
  await at('answer'); await picture('phone')
  await named()
  const paper = await page.pdf({ preferCSSPageSize: true })
  expect(paper.length > 10000, 'the page does not print')
  if (pictures) writeFileSync(join(pictures, 'page.pdf'), paper)
})
