// Opens a page without a script in Chromium, without a network, as a reader would: it
// must load without a word on the console, fit a desktop and a phone, lead where its
// links say, and print to A4.
//
//   node plain.mjs page.html [folder for pictures]
//
// CHROMIUM names the browser, /usr/bin/chromium otherwise.
import { chromium } from 'playwright-core'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { join, resolve } from 'node:path'
import { pathToFileURL } from 'node:url'
import { tmpdir } from 'node:os'

const url = pathToFileURL(resolve(process.argv[2])).href
const pictures = process.argv[3]
const failures = []
let checks = 0
const expect = (ok, what) => { checks++; if (!ok) failures.push(what) }

const profile = mkdtempSync(join(tmpdir(), 'plain-'))
const context = await chromium.launchPersistentContext(profile, {
  executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium', headless: true, offline: true,
  viewport: { width: 1280, height: 800 },
  args: ['--headless', '--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking', '--disable-component-update', '--disable-sync'],
})
const page = context.pages()[0] ?? await context.newPage()
page.on('console', (m) => failures.push(`console: ${m.text()}`))
page.on('dialog', (d) => { failures.push(`a dialog opened: ${d.message()}`); d.dismiss() })
page.on('request', (r) => { if (!r.url().startsWith(url) && !(r.resourceType() === 'image' && r.url().startsWith('file:'))) failures.push(`a request went out: ${r.url().slice(0, 80)}`) })
const picture = async (name) => { if (pictures) await page.screenshot({ path: join(pictures, name + '.png') }) }
const fits = async (what) => expect(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth), `a ${what} must scroll sideways`)

try {
  await page.goto(url)
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
} catch (err) {
  failures.push(err.message)
} finally {
  await context.close()
  rmSync(profile, { recursive: true, force: true })
}
for (const line of failures) console.log(line)
console.log(`${checks} checks, ${failures.length} failures`)
process.exitCode = failures.length > 0 ? 1 : 0
