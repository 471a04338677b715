// Opens a confirm.html in Chromium, without a network, as a reader would: it must load
// without a word on the console, play, pause and go slowly from mouse and keyboard, keep
// still for who asks for less motion, show its numbers, fit a phone and print.
//
//   node confirm.mjs confirm.html [folder for pictures]
//
// See browser.mjs for what it needs.
import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { read } from './browser.mjs'

const pictures = process.argv[3]

await read(process.argv[2], pictures, async ({ page, expect, picture, at, fits, named }) => {
  const text = (id) => page.textContent('#' + id)
  const path = () => page.getAttribute('.stand .frame', 'd')
  const clock = async () => parseFloat(await text('clock'))
  await fits('desktop')
  await named()
  const films = await page.evaluate(() => stock.films.length)
  expect(films > 0 && await page.$$eval('#building option', (o) => o.length) === films, 'a film of each building')
  const film = await page.evaluate(() => ({ still: stock.films[0].still, rate: stock.films[0].rate, frames: stock.films[0].frames, stands: stock.films[0].stands.length }))
  expect(await page.$$eval('.stand', (s) => s.length) === film.stands, 'a picture of each stand')

  // It opens on the still, the moment of the largest drift, and does not move by itself.
  await at('film'); await picture('still')
  const first = await path()
  expect(Math.abs(await clock() - film.still / film.rate) < 0.01, `the still is at ${await clock()} s`)
  expect((await text('state')).startsWith('Still: the moment of the largest drift'), 'the still does not say what it is')
  await page.waitForTimeout(300)
  expect(await path() === first, 'it moves unasked')
  const numbers = await page.textContent('.stand dl')
  expect(/Storey drift\d+\.\d\d %/.test(numbers) && /Floor acceleration\d+\.\d\d g/.test(numbers), `no live numbers: ${numbers}`)

  // Play from the beginning, pause, and play slowly.
  await page.click('#play')
  await page.waitForTimeout(600)
  expect(await text('play') === 'Pause', 'play does not become pause')
  expect(await path() !== first, 'play does not move')
  await page.click('#play')
  const paused = await clock()
  expect(paused > 0.05 && paused < 60, `paused at ${paused} s`)
  const stands = await path()
  await page.waitForTimeout(300)
  expect(await path() === stands && (await text('state')).startsWith('Paused at'), 'pause does not hold')
  await picture('paused')
  await page.click('#slow')
  expect(await page.getAttribute('#slow', 'aria-pressed') === 'true', 'slow is not pressed')
  const pace = async () => { const from = await page.evaluate(() => [at, performance.now()]); await page.waitForTimeout(800); const to = await page.evaluate(() => [at, performance.now()]); return (to[0] - from[0]) / film.rate / (to[1] - from[1]) * 1000 }
  await page.click('#play')
  await page.waitForTimeout(100)
  const slow = await pace()
  expect(slow > 0.1 && slow < 0.4, `slow runs at ${slow.toFixed(2)} of the speed`)
  await page.click('#play')
  await page.click('#slow')

  // From the keyboard alone: buttons by space, the time by arrows, the film by space.
  await page.focus('#play'); await page.keyboard.press('Space')
  expect(await text('play') === 'Pause', 'space on the button does not play')
  await page.keyboard.press('Space')
  expect(await text('play') === 'Play', 'space on the button does not pause')
  await page.focus('#time'); await page.keyboard.press('End')
  expect(Math.abs(await clock() - (film.frames - 1) / film.rate) < 0.01, 'End does not lead to the end')
  await page.keyboard.press('Home'); await page.keyboard.press('ArrowRight')
  expect(Math.abs(await clock() - 1 / film.rate) < 0.011, 'the arrow does not lead to the next position')
  await page.focus('#film'); await page.keyboard.press('Space')
  expect(await text('play') === 'Pause', 'space on the film does not play')
  await page.focus('#rest'); await page.keyboard.press('Enter')
  expect(await path() === first, 'the largest drift is not the still')

  // Every building, at its end. One film is of a part of its record; a building has none.
  let parts = 0
  for (let i = 0; i < films; i++) {
    await page.selectOption('#building', String(i))
    await page.focus('#time'); await page.keyboard.press('End')
    const bad = await page.evaluate(() => [...document.querySelectorAll('#stage svg *')].some((e) => [...e.attributes].some((a) => /NaN|undefined|Infinity/.test(a.value))))
    expect(!bad, `building ${i} is drawn with no numbers`)
    const f = await page.evaluate((i) => { const { start, frames, rate, length } = stock.films[i]; return { start, end: start + (frames - 1) / rate, part: start > 0 || frames / rate < length - 0.5 } }, i)
    expect(Math.abs(await clock() - f.end) < 0.011, `film ${i} ends at ${await clock()} s, not ${f.end}`)
    expect((await text('which')).includes('The page has room for') === f.part, `film ${i} does not say that it is a part`)
    parts += f.part
    await page.click('#rest')
    await picture('film-' + i)
  }
  const unfilmed = await page.$$eval('.portrait', (all) => all.filter((e) => e.textContent.includes('There is no moving picture')).length)
  expect(parts === 1 && unfilmed === await page.$$eval('.portrait', (all) => all.length) - films, `${parts} films of a part, ${unfilmed} buildings without one that say so`)
  await page.selectOption('#building', '0')

  // Less motion: it stands still, also in the middle of a play.
  await page.click('#play')
  await page.emulateMedia({ reducedMotion: 'reduce' })
  await page.waitForTimeout(200)
  expect(await path() === first && await text('play') === 'Play anyway', 'who asks for less motion does not see the still')
  await page.reload()
  expect(await path() === first && await text('play') === 'Play anyway', 'less motion from the start')
  await page.emulateMedia({ reducedMotion: 'no-preference' })

  for (const id of ['table', 'pictures', 'cautions']) { await at(id); await picture(id) }
  const alts = await page.$$eval('.panels [role=img]', (all) => all.filter((e) => !e.getAttribute('aria-label') || !e.querySelector('svg')).length)
  expect(alts === 0, `${alts} pictures without words`)

  // Dark, phone and paper; what is printed is the still.
  await page.emulateMedia({ colorScheme: 'dark' })
  await at('film'); await picture('dark')
  await page.click('#theme')
  expect(await page.evaluate(() => document.documentElement.dataset.theme) === 'light', 'the button for colours')
  await page.setViewportSize({ width: 390, height: 844 })
  await page.waitForTimeout(100)
  await fits('phone')
  await at('film'); await picture('phone')
  await page.click('#play')
  const paper = await page.pdf({ preferCSSPageSize: true })
  expect(paper.length > 10000, 'the page does not print')
  expect((await text('state')).startsWith('Still'), 'what is printed is not the still')
  if (pictures) writeFileSync(join(pictures, 'confirm.pdf'), paper)
})
