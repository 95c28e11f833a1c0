// Opens a page of HTML in headless Chromium, on a desktop, on a phone, on paper
// and without scripts, and says what is wrong with it: node pages.mjs CHROMIUM
// PAGE FOLDER. Pictures and prints go into the folder. It speaks the protocol of
// the browser's developer tools over a pipe and needs no module.
import { spawn } from 'node:child_process'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join, resolve } from 'node:path'
import { pathToFileURL } from 'node:url'

const [chromium, page, folder] = process.argv.slice(2)
const url = pathToFileURL(resolve(page)).href
const profile = mkdtempSync(join(tmpdir(), 'pages-'))
const browser = spawn(chromium, ['--headless', '--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run',
  '--disable-background-networking', '--disable-component-update', '--disable-sync', '--remote-debugging-pipe',
  `--user-data-dir=${profile}`, 'about:blank'], { stdio: ['ignore', 'ignore', 'ignore', 'pipe', 'pipe'] })

const faults = []
const fault = (where, what) => faults.push(`${where}: ${what}`)

// The pipe: messages end with a zero byte.
let last = 0, rest = ''
const waiting = new Map(), listeners = []
browser.stdio[4].setEncoding('utf8')
browser.stdio[4].on('data', text => {
  const parts = (rest + text).split('\0')
  rest = parts.pop()
  for (const part of parts) {
    const m = JSON.parse(part)
    if (m.id && waiting.has(m.id)) {
      const { done, failed } = waiting.get(m.id)
      waiting.delete(m.id)
      m.error ? failed(new Error(m.error.message)) : done(m.result)
    } else for (const l of listeners) l(m)
  }
})
function send(method, params = {}, sessionId) {
  const id = ++last
  return new Promise((done, failed) => {
    waiting.set(id, { done, failed })
    browser.stdio[3].write(JSON.stringify({ id, method, params, sessionId }) + '\0')
  })
}

// open loads the page in a tab of its own and listens for what goes wrong.
async function open(where, width, height, { mobile = false, scripts = true } = {}) {
  const { targetId } = await send('Target.createTarget', { url: 'about:blank' })
  const { sessionId } = await send('Target.attachToTarget', { targetId, flatten: true })
  const to = (method, params) => send(method, params, sessionId)
  let loaded
  const load = new Promise(done => { loaded = done })
  listeners.push(m => {
    if (m.sessionId !== sessionId) return
    if (m.method === 'Page.loadEventFired') loaded()
    if (m.method === 'Runtime.exceptionThrown') fault(where, 'script: ' + m.params.exceptionDetails.text)
    if (m.method === 'Runtime.consoleAPICalled') fault(where, 'console: ' + JSON.stringify(m.params.args))
    if (m.method === 'Log.entryAdded') fault(where, `${m.params.entry.level}: ${m.params.entry.text}`)
    if (m.method === 'Network.requestWillBeSent' && m.params.request.url !== url && !m.params.request.url.startsWith('data:'))
      fault(where, 'asks for ' + m.params.request.url)
  })
  for (const domain of ['Page', 'Runtime', 'Log', 'Network']) await to(domain + '.enable')
  await to('Emulation.setDeviceMetricsOverride', { width, height, deviceScaleFactor: 1, mobile })
  if (!scripts) await to('Emulation.setScriptExecutionDisabled', { value: true })
  await to('Page.navigate', { url })
  await load
  const ask = async expression => {
    const { result, exceptionDetails } = await to('Runtime.evaluate', { expression, returnByValue: true })
    if (exceptionDetails) throw new Error(`${where}: ${exceptionDetails.exception?.description}`)
    return result.value
  }
  return { to, ask, where }
}

// save writes what the browser gives in base64.
const save = (name, data) => writeFileSync(join(folder, name), Buffer.from(data, 'base64'))

async function shot(tab, name, width) {
  const { cssContentSize } = await tab.to('Page.getLayoutMetrics')
  const { data } = await tab.to('Page.captureScreenshot', { captureBeyondViewport: true,
    clip: { x: 0, y: 0, width, height: Math.min(cssContentSize.height, 16000), scale: 1 } })
  save(name, data)
}

// fits: nothing reaches beyond the window, but what scrolls in a box of its own.
async function fits(tab, width) {
  const wide = await tab.ask('document.documentElement.scrollWidth')
  if (wide > width) fault(tab.where, `${wide} px wide in a window of ${width}`)
}

// slides moves the slider to both ends by its keys and back.
async function slides(tab) {
  const look = () => tab.ask(`(() => { const r = document.getElementById('trade-range')
    return r && !document.getElementById('trade-slider').hidden ? { value: +r.value, most: +r.max, place: document.getElementById('trade-marker').getAttribute('transform'),
      say: document.getElementById('trade-say').textContent, aria: r.getAttribute('aria-valuetext') } : null })()`)
  const began = await look()
  if (!began) {
    if (await tab.ask("document.querySelectorAll('#trade-table tbody tr').length") > 1) fault(tab.where, 'the slider does not show')
    return false
  }
  await tab.ask("document.getElementById('trade-range').focus()")
  const seen = new Set()
  for (const [key, code] of [['Home', 36], ...Array(began.most).fill(['ArrowRight', 39])]) {
    for (const type of ['keyDown', 'keyUp']) await tab.to('Input.dispatchKeyEvent', { type, key, code: key, windowsVirtualKeyCode: code })
    const now = await look()
    seen.add(now.place)
    if (!now.say || !now.aria) fault(tab.where, `the slider says nothing at ${now.value}`)
  }
  if (seen.size !== began.most + 1) fault(tab.where, `the marker stood at ${seen.size} places, there are ${began.most + 1} plans`)
  return true
}

try {
  const desktop = await open('desktop', 1280, 900)
  await fits(desktop, 1280)
  const slid = await slides(desktop)
  await shot(desktop, 'desktop.png', 1280)
  const phone = await open('phone', 360, 740, { mobile: true })
  await fits(phone, 360)
  await shot(phone, 'phone.png', 360)
  for (const [name, paperWidth, paperHeight] of [['a4', 8.27, 11.69], ['letter', 8.5, 11]]) {
    const { data } = await desktop.to('Page.printToPDF', { paperWidth, paperHeight, preferCSSPageSize: false, printBackground: true,
      displayHeaderFooter: false, marginTop: 0.5, marginBottom: 0.5, marginLeft: 0.5, marginRight: 0.5 })
    save(name + '.pdf', data)
    // What is wider than the paper makes the browser print all of it smaller, or cuts it.
    const room = Math.floor(96 * (paperWidth - 2 * 13 / 25.4))
    const sheet = await open(name, room, 900)
    await sheet.to('Emulation.setEmulatedMedia', { media: 'print' })
    await fits(sheet, room)
    const cut = await sheet.ask(`[...document.querySelectorAll('table, svg, figure, .scroll, .pic')].filter(e => e.getBoundingClientRect().right > ${room} + 1)
      .map(e => (e.closest('section') || {}).id + ' ' + e.tagName + ' ' + Math.round(e.getBoundingClientRect().right))`)
    for (const c of cut) fault(name, 'wider than the paper: ' + c)
  }
  const plain = await open('without scripts', 1280, 900, { scripts: false })
  await fits(plain, 1280)
  const shown = await plain.ask("getComputedStyle(document.getElementById('trade-slider') || document.head).display")
  if (shown !== 'none') fault('without scripts', 'the slider shows and does nothing')
  const bare = await plain.ask("['verdict', 'flows', 'changes', 'parts', 'sure', 'mind'].filter(id => !document.getElementById(id))")
  for (const id of bare) fault('without scripts', 'no part ' + id)
  console.log(`${page}: ${faults.length ? 'faults' : 'no faults'}; ${slid ? 'the slider moves' : 'no slider: there is one plan or none'}`)
} catch (e) {
  fault('browser', e.message)
} finally {
  await Promise.race([send('Browser.close').catch(() => {}), new Promise(done => setTimeout(done, 2000))])
  browser.kill()
  for (let i = 0; i < 20; i++) {
    try {
      rmSync(profile, { recursive: true, force: true })
      break
    } catch { // its processes still write
      await new Promise(done => setTimeout(done, 100))
    }
  }
}
for (const f of faults) console.error(f)
process.exitCode = faults.length ? 1 : 0
