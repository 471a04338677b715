// Opens a page of a run in Chromium, without a network, as a reader would. What goes
// wrong is collected; whatever a page says on the console is wrong.
//
// CHROMIUM names the browser, /usr/bin/chromium otherwise.
import { chromium } from 'playwright-core'
import { mkdtempSync, rmSync } from 'node:fs'
import { join, resolve } from 'node:path'
import { pathToFileURL } from 'node:url'
import { tmpdir } from 'node:os'

// read opens the page in file and calls body with it and what checks it: expect, picture
// (a screenshot into the folder, if there is one), at (scroll to an element), fits and
// named. Nothing may be asked for but the page and what allowed lets through. It prints what
// failed and sets the exit code.
export async function read(file, pictures, body, allowed = () => false) {
  const url = pathToFileURL(resolve(file)).href
  const failures = []
  let checks = 0
  const expect = (ok, what) => { checks++; if (!ok) failures.push(what) }
  const profile = mkdtempSync(join(tmpdir(), 'page-'))
  const context = await chromium.launchPersistentContext(profile, {
    executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium', headless: true, offline: true,
    viewport: { width: 1280, height: 800 },
    args: ['--headless', '--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking', '--disable-component-update', '--disable-sync'],
  })
  const page = context.pages()[0] ?? await context.newPage()
  page.on('console', (m) => failures.push(`console: ${m.text()}`))
  page.on('pageerror', (e) => failures.push(`script: ${e.message}`))
  page.on('dialog', (d) => { failures.push(`a dialog opened: ${d.message()}`); d.dismiss() })
  page.on('request', (r) => { if (!r.url().startsWith(url) && !allowed(r)) failures.push(`a request went out: ${r.url().slice(0, 80)}`) })

  const picture = async (name) => { if (pictures) await page.screenshot({ path: join(pictures, name + '.png') }) }
  const at = async (id) => { await page.evaluate((i) => document.getElementById(i).scrollIntoView({ behavior: 'instant' }), id); await page.waitForTimeout(100) }
  const fits = async (what) => {
    const wide = await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth ? [] : [...document.querySelectorAll('main *')].filter((e) => e.getBoundingClientRect().right > innerWidth + 1).slice(0, 5).map((e) => e.outerHTML.slice(0, 60)))
    expect(wide.length === 0, `a ${what} must scroll sideways: ${wide}`)
  }
  const named = async () => {
    const names = await page.$$eval('button, input, select, canvas, a', (all) => all.filter((e) => !e.closest('[aria-hidden=true]') && !(e.getAttribute('aria-label') || e.textContent.trim() || e.closest('label'))).map((e) => e.outerHTML.slice(0, 80)))
    expect(names.length === 0, `controls without a name: ${names}`)
  }
  try {
    await page.goto(url)
    await body({ page, expect, picture, at, fits, named })
  } catch (err) {
    failures.push(err.message)
  } finally {
    await context.close()
    rmSync(profile, { recursive: true, force: true })
  }
  for (const line of failures) console.log(line)
  console.log(`${checks} checks, ${failures.length} failures`)
  process.exitCode = failures.length > 0 ? 1 : 0
}
