// Opens a page without a script in Chromium, without a network, as a reader would: it
// must load without a word on the console, fit a desktop and a phone, lead where its
// links say, and print to A4.
//
//   node plain.mjs page.html [folder for pictures]
//
// See browser.mjs for what it needs.
import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { read } from './browser.mjs'

const pictures = process.argv[3]

await read(process.argv[2], pictures, async ({ page, expect, picture, fits }) => {
  await fits('desktop')
  await picture('desktop')
  expect(await page.$$eval('h1', (h) => h.length) === 1, 'one title')
  expect(await page.$$eval('script', (s) => s.length) === 0, 'a script')
  const dead = await page.$$eval('a[href^="#"]', (all) => all.map((a) => a.hash.slice(1)).filter((id) => !document.getElementById(decodeURIComponent(id))))
  expect(dead.length === 0, `links that lead nowhere: ${dead}`)
  expect((await page.textContent('body')).includes('not thereby safe'), 'the caution')
  const cells = await page.$$eval('table', (all) => all.filter((t) => [...t.rows].some((r) => r.cells.length !== t.rows[0].cells.length)).length)
  expect(cells === 0, `${cells} tables with rows of different length`)
  await page.emulateMedia({ colorScheme: 'dark' })
  await picture('dark')
  await page.setViewportSize({ width: 390, height: 844 })
  await page.waitForTimeout(100)
  await fits('phone')
  await picture('phone')
  const paper = await page.pdf({ preferCSSPageSize: true })
  const sheet = paper.toString('latin1').match(/\/MediaBox\s*\[\s*0 0 ([\d.]+) ([\d.]+)/)
  expect(sheet && Math.abs(sheet[1] - 595) < 2 && Math.abs(sheet[2] - 842) < 2, 'the paper is not A4') // ISO 216, in points
  if (pictures) writeFileSync(join(pictures, 'page.pdf'), paper)
}, (r) => r.resourceType() === 'image' && r.url().startsWith('file:'))
