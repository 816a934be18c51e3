// The pages in Debian's chromium, driven by playwright-core and looked at by axe-core.
//
// usage: node run.mjs GREASEPAINT PAGES_MAKE_BOOK [--pictures FOLDER]
//
// Which pages are looked at: pages.json. Standards: WCAG 2.2 AA (axe-core's rules wcag2a, wcag2aa,
// wcag21aa, wcag22aa); success criteria 1.4.10 (320 CSS pixels), 1.4.12 (text spacing) by hand.
import { spawn, execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, existsSync, mkdirSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { setDefaultResultOrder } from 'node:dns';

// Debian's Node 18 tries one address of localhost alone, and the program listens on IPv4
setDefaultResultOrder('ipv4first');

const here = dirname(fileURLToPath(import.meta.url));
const [program, makeBook, ...options] = process.argv.slice(2);
const pictures = options[0] === '--pictures' ? options[1] : '';
const browserPath = ['/usr/bin/chromium', '/usr/bin/chromium-browser'].find(existsSync);
if (!browserPath) {
  console.error('The test of the pages needs a browser (Debian: chromium).');
  process.exit(1);
}
const { chromium } = await import('playwright-core').catch(() => {
  console.error('The test of the pages needs `npm ci` in tests/pages.');
  process.exit(1);
});
const axe = readFileSync(join(here, 'node_modules/axe-core/axe.min.js'), 'utf8');
const listed = JSON.parse(readFileSync(join(here, 'pages.json'), 'utf8'));
const passphrase = 'three wet herrings';
const mostBytes = 60 * 1024;
// The organiser's plan and needs hold every scene, step and call of a day; nobody else opens them.
const mostBytesOfAll = 100 * 1024;

const faults = [];
let checks = 0;
const check = (right, what) => {
  ++checks;
  if (!right) faults.push(what);
};

const folder = mkdtempSync(join(tmpdir(), 'greasepaint-pages-'));
const servers = [];
/// A book of a production, and the program that shows it on a free port.
async function serve(production, name, person) {
  const book = join(folder, name);
  const made = JSON.parse(execFileSync(makeBook, [production, book, passphrase, person]).toString());
  const server = spawn(program, ['serve', book, '--port', '0'], { stdio: ['ignore', 'pipe', 'pipe'] });
  servers.push(server);
  let text = '';
  const address = await new Promise((resolve, reject) => {
    const listen = (chunk) => {
      text += chunk;
      const found = /http:\/\/localhost:(\d+)\//.exec(text);
      if (found) resolve(`http://localhost:${found[1]}`);
    };
    server.stdout.on('data', listen);
    server.stderr.on('data', listen);
    server.on('exit', () => reject(new Error(`serve ended: ${text}`)));
    setTimeout(() => reject(new Error(`serve says nothing: ${text}`)), 15000);
  });
  return { ...made, address, day: JSON.parse(readFileSync(production)).days[0].date };
}

let browser;
const sizes = { small: { width: 320, height: 640 }, phone: { width: 390, height: 844 },
                desktop: { width: 1280, height: 900 } };

async function context(extra = {}) {
  return browser.newContext({ viewport: sizes.phone, locale: 'en-GB', ...extra });
}
async function let_in(page, site, who) {
  if (who === 'called' || who === 'fresh') await page.goto(`${site.address}/p/${site[`${who}_link`]}`);
  if (who === 'organiser') {
    await page.goto(`${site.address}/log-in`);
    await page.fill('input[type=password]', passphrase);
    await page.click('main button');
  }
}
const sideways = (page) =>
  page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);

/// What axe finds, what scrolls sideways, what is too small to tap; on the page as it stands.
async function look(page, where) {
  const answer = await page.evaluate(async () => {
    const found = await globalThis.axe.run(document, {
      runOnly: ['wcag2a', 'wcag2aa', 'wcag21aa', 'wcag22aa'], resultTypes: ['violations'] });
    return found.violations.map((one) => `${one.id}: ${one.nodes[0].target} ${one.nodes[0].failureSummary}`);
  });
  check(answer.length === 0, `${where}: axe: ${answer.join(' | ')}`);
}
async function prepare(page) {
  await page.evaluate(axe);
}
async function look_at_all_sizes(page, where) {
  await prepare(page);
  for (const scheme of ['light', 'dark']) {
    await page.emulateMedia({ colorScheme: scheme, reducedMotion: 'reduce' });
    for (const [name, size] of Object.entries(sizes)) {
      if (name === 'phone' && scheme === 'light') continue; // between the two others
      await page.setViewportSize(size);
      await look(page, `${where} (${name}, ${scheme})`);
      check((await sideways(page)) <= 0, `${where} (${name}) scrolls sideways`);
    }
  }
  // 200 % zoom of 1280 pixels is 640 CSS pixels (WCAG 2.2, 1.4.4)
  await page.setViewportSize({ width: 640, height: 450 });
  check((await sideways(page)) <= 0, `${where}: at 200 % it scrolls sideways`);
  await page.setViewportSize(sizes.small);
  // WCAG 2.2, 1.4.12, the values of the criterion
  const clipped = await page.evaluate(() => {
    const wide = new CSSStyleSheet();
    wide.replaceSync(`* { line-height: 1.5 !important; letter-spacing: .12em !important;
      word-spacing: .16em !important } p { margin-bottom: 2em !important }`);
    document.adoptedStyleSheets = [wide];
    const bad = [...document.querySelectorAll('main *, header *, footer *')].filter((one) => {
      const style = getComputedStyle(one);
      return style.overflow === 'hidden' && !one.classList.contains('hidden-words') &&
        !one.closest('svg') && !one.closest('thead') && one.scrollHeight > one.clientHeight + 2;
    }).map((one) => one.className);
    const over = document.documentElement.scrollWidth - document.documentElement.clientWidth;
    document.adoptedStyleSheets = [];
    return { bad, over };
  });
  check(clipped.bad.length === 0 && clipped.over <= 0,
        `${where}: wide text is clipped: ${JSON.stringify(clipped)}`);
  const moving = await page.evaluate(() => document.getAnimations().length);
  check(moving === 0, `${where}: something moves`);
}

async function every_page(site) {
  for (const [who, addresses] of Object.entries(listed)) {
    const visit = await context();
    const page = await visit.newPage();
    await let_in(page, site, who);
    for (const pattern of addresses) {
      const address = pattern.replace('{called}', site.called_id).replace('{fresh}', site.fresh_id)
        .replace('{day}', site.day);
      await page.emulateMedia({ colorScheme: 'light' });
      await page.setViewportSize(sizes.phone);
      const answer = await page.goto(site.address + address);
      check(answer.status() === (address === '/nothing-here' ? 404 : 200),
            `${pattern}: status ${answer.status()}`);
      const weight = (await answer.body()).length;
      const most = /^\/organise\/(plan|needs)/.test(pattern) ? mostBytesOfAll : mostBytes;
      check(weight + site.shared <= most, `${pattern}: ${weight + site.shared} bytes`);
      check((await page.title()).length > 3, `${pattern}: no title`);
      await look_at_all_sizes(page, pattern);
    }
    await visit.close();
  }
}

/// The whole sign-up. `press` does a page's work; afterwards it is sent on.
const answers = {
  you: async (act) => { await act.type('name', '李 Ó hÉalaithe <script>'); await act.type('phone', '+44 (0)7700 900 982'); await act.tick('adult'); },
  when: async (act) => { for (const day of act.days) await act.tick(`day_${day}`); },
  like: async (act) => { await act.type('friends', 'Bo Ferris\nSomebody Else'); },
  brings: async (act) => { await act.tick('brings-1'); },
  film: async (act) => { await act.tick('film'); },
};
async function step_of(page) {
  return page.locator('input[name=step]').first().getAttribute('value');
}
async function sign_up(page, site, act, on, each = async () => {}) {
  await page.goto(`${site.address}/sign-up`);
  const seen = [];
  for (let pages = 0; pages < 20; ++pages) {
    const step = await step_of(page);
    seen.push(step);
    await each(step);
    if (step === 'check') break;
    if (answers[step]) await answers[step](act);
    await on();
  }
  check(seen.at(-1) === 'check', `the sign-up ends at ${seen}`);
  return seen;
}
const days_of = (page) => page.evaluate(() =>
  [...new Set([...document.querySelectorAll('[name^=day_]')].map((one) => one.name.slice(4)))]);
const by_id = (page, id) => page.locator(`[id="${id}"]`);
const mouse = (page) => ({
  days: [],
  type: (id, text) => by_id(page, id).fill(text),
  tick: (id) => by_id(page, id).check(),
});
const people_in = async (site, name) => {
  const visit = await context();
  const page = await visit.newPage();
  await let_in(page, site, 'organiser');
  const text = await page.content();
  await visit.close();
  return text.split(name).length - 1;
};

async function without_script(site) {
  const visit = await context({ javaScriptEnabled: false });
  const page = await visit.newPage();
  const act = mouse(page);
  Object.defineProperty(act, 'days', { get: () => site.days });
  await sign_up(page, site, act, () => page.click('button[value=on]'));
  check((await page.textContent('dl.facts')).includes('Somebody Else'), 'no script: whom to be with is lost');
  await page.locator('button[value=send]').last().click();
  check(page.url().includes('/welcome'), `no script: ends at ${page.url()}`);
  check((await page.textContent('#link')).includes('/p/'), 'no script: no personal link');
  await visit.close();
}

async function by_keyboard(site) {
  const visit = await context();
  const page = await visit.newPage();
  // Tab until the wanted one has the focus, which must be seen; never more than the page has
  const reach = async (wanted) => {
    for (let steps = 0; steps < 90; ++steps) {
      await page.keyboard.press('Tab');
      const at = await page.evaluate((id) => {
        const one = document.activeElement;
        const ring = one.closest('label.choice') ?? one;
        const group = id && document.getElementById(id);
        return { there: one.id === id || (one.type === 'radio' && one.name === group?.name) ||
                        (!id && one.value === 'on') || one.value === id,
                 ring: getComputedStyle(ring).outlineStyle !== 'none' };
      }, wanted);
      if (at.there) {
        check(at.ring, `keyboard: no ring at ${wanted ?? 'the button'}`);
        return;
      }
    }
    check(false, `keyboard: ${wanted ?? 'the button'} is not reached`);
  };
  const act = {
    get days() { return site.days; },
    type: async (id, text) => { await reach(id); await page.keyboard.type(text); },
    tick: async (id) => {
      await reach(id);
      await page.keyboard.press('Space');
      for (let i = 0; i < 3 && !(await by_id(page, id).isChecked()); ++i) await page.keyboard.press('ArrowDown');
    },
  };
  const loaded = (press) => Promise.all([page.waitForNavigation(), press]);
  const began = Date.now();
  await sign_up(page, site, act, async () => { await reach(); await loaded(page.keyboard.press('Enter')); });
  await reach('send');
  await loaded(page.keyboard.press('Enter'));
  check(page.url().includes('/welcome'), `keyboard: ends at ${page.url()}`);
  console.log(`the sign-up by keyboard took ${((Date.now() - began) / 1000).toFixed(1)} s`);
  await visit.close();
}

async function wrong_and_back(site) {
  const visit = await context();
  const page = await visit.newPage();
  const act = mouse(page);
  Object.defineProperty(act, 'days', { get: () => site.days });
  await page.goto(`${site.address}/sign-up`);
  await page.fill('#name', 'Nell');
  await page.click('button[value=on]');
  check((await page.title()).startsWith('Error: '), 'an error is not in the title');
  check(await page.evaluate(() => document.activeElement.className === 'problem'), 'the summary has no focus');
  check((await page.inputValue('#name')) === 'Nell', 'an error loses what was typed');
  const first = page.locator('.problem a').first();
  const words = await first.textContent();
  check((await page.locator('.error', { hasText: words }).count()) === 1, 'the field says other words');
  await first.click();
  check(await page.evaluate(() => document.activeElement.id === 'phone'), 'the summary does not lead to the field');
  await prepare(page);
  await look(page, 'the first page with errors');
  // the browser's own Back keeps what was typed
  await page.fill('#phone', '01632 960001');
  await page.check('[id="adult"]');
  await page.click('button[value=on]');
  check((await step_of(page)) === 'when', 'not on to the days');
  await page.goBack();
  check((await page.inputValue('#name')) === 'Nell', `Back loses what was typed: ${page.url()}`);
  // twice the same form: one person
  await sign_up(page, site, act, () => page.click('button[value=on]'), async (step) => {
    if (step !== 'check') { await prepare(page); await look(page, `sign-up: ${step}`); check((await sideways(page)) <= 0, `${step} scrolls sideways`); }
  });
  await page.fill('#words', 'Only once');
  await prepare(page);
  await look(page, 'sign-up: check');
  const form = await page.evaluate(() => {
    const data = new FormData(document.forms[0]);
    data.append('go', 'send');
    return new URLSearchParams(data).toString();
  });
  const before = await people_in(site, '/organise/sign-ups/') ;
  const twice = await page.evaluate(async (body) => {
    const send = () => fetch('/sign-up', { method: 'POST', body,
      headers: { 'Content-Type': 'application/x-www-form-urlencoded' } });
    const both = await Promise.all([send(), send()]);
    return both.map((one) => one.url);
  }, form);
  check(twice[0] === twice[1] && twice[0].endsWith('/welcome'), `sent twice: ${twice}`);
  check((await people_in(site, '/organise/sign-ups/')) - before <= 2, 'sent twice makes two people');
  await visit.close();
}

async function take_pictures(site) {
  mkdirSync(pictures, { recursive: true });
  const shot = async (who, address, name, size, scheme, before = async () => {}) => {
    const visit = await context({ viewport: sizes[size], colorScheme: scheme, deviceScaleFactor: 1 });
    const page = await visit.newPage();
    await let_in(page, site, who);
    await page.goto(site.address + address);
    await before(page);
    await page.screenshot({ path: join(pictures, `${name}.png`) });
    await visit.close();
  };
  const until = (wanted) => async (page) => {
    const act = mouse(page);
    Object.defineProperty(act, 'days', { get: () => site.days });
    for (let i = 0; i < 15 && (await step_of(page)) !== wanted; ++i) {
      const step = await step_of(page);
      if (answers[step]) await answers[step](act);
      await page.click('button[value=on]');
    }
  };
  await shot('anyone', '/', 'pages-start', 'phone', 'light');
  await shot('anyone', '/sign-up', 'pages-when', 'phone', 'light', until('when'));
  await shot('anyone', '/sign-up', 'pages-no', 'phone', 'dark', until('no'));
  await shot('called', `/me/${site.called_id}`, 'pages-own', 'phone', 'light');
  await shot('called', `/me/${site.called_id}`, 'pages-own-dark', 'desktop', 'dark');
  await shot('anyone', '/sign-up', 'pages-care', 'desktop', 'light', until('care'));
}

try {
  const demo = join(here, '../../demo');
  browser = await chromium.launch({ executablePath: browserPath, headless: true,
    args: ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run',
           '--disable-background-networking', '--disable-component-update', '--disable-sync'] });
  const [wedding, small] = await Promise.all([
    serve(join(demo, 'herring-wedding/production.json'), 'wedding.book', 'edith'),
    serve(join(here, 'small.json'), 'small.book', 'ada')]);
  for (const site of [wedding, small]) {
    site.shared = 0;
    for (const file of ['style.css', 'script.js', 'mark.svg']) {
      site.shared += (await (await fetch(`${site.address}/${file}`)).arrayBuffer()).byteLength;
    }
  }
  wedding.days = JSON.parse(readFileSync(join(demo, 'herring-wedding/production.json'))).days.map((one) => one.date);
  small.days = [small.day];
  if (pictures) {
    await take_pictures(wedding);
  } else {
    await Promise.all([every_page(wedding), without_script(small), by_keyboard(small), wrong_and_back(wedding)]);
  }
} catch (error) {
  faults.push(String(error.stack ?? error));
} finally {
  await browser?.close();
  for (const server of servers) { server.removeAllListeners('exit'); server.kill(); }
  rmSync(folder, { recursive: true, force: true });
}
for (const fault of faults) console.error(`- ${fault}`);
console.log(`${checks} checks, ${faults.length} failed`);
process.exit(faults.length === 0 ? 0 : 1);
