/**
 * Loaded into the test processes while reach is recorded: appends to the file that MUTATE_REACHED names what pages say they reached,
 * and which sources of the product a test reads as text. Plain JavaScript, because Node loads it before anything else.
 */
import fs from 'node:fs';
import { createRequire, syncBuiltinESMExports } from 'node:module';
import { join, relative, sep } from 'node:path';
import { fileURLToPath } from 'node:url';

const log = process.env.MUTATE_REACHED;
const root = process.env.MUTATE_ROOT;
const said = process.env.MUTATE_SAID;
const append = fs.appendFileSync;
const note = (line) => append(log, `${line}\n`);

/** Lets a method do what it did, after `before` has seen its arguments. */
function listen(owner, name, before) {
  const method = owner[name];
  owner[name] = function (...args) {
    before(args);
    return method.apply(this, args);
  };
}

const noted = new Set();
/** Outside of test workers it is the bundler that reads the sources. */
function noteRead([path]) {
  if (process.env.VITEST_WORKER_ID === undefined || typeof path === 'number') return;
  const file = relative(root, path instanceof URL ? fileURLToPath(path) : String(path))
    .split(sep)
    .join('/');
  if (!/^(?:engine|server|web)\/.*\.ts$/.test(file) || noted.has(file)) return;
  noted.add(file);
  note(`read ${file}`);
}
listen(fs, 'readFileSync', noteRead);
listen(fs, 'readFile', noteRead);
listen(fs.promises, 'readFile', noteRead);
syncBuiltinESMExports();

const heard = new WeakSet();
function hear(context) {
  if (heard.has(context)) return;
  heard.add(context);
  context.on('console', (message) => {
    const text = message.text();
    if (text.startsWith(said)) note(text.slice(said.length));
  });
}

const { chromium } = createRequire(join(root, 'package.json'))('playwright-core');
const patched = new WeakSet();
/** Every context that a browser makes is listened to, whoever asks for it. */
function hearBrowser(browser) {
  for (const context of browser.contexts()) hear(context);
  const shape = Object.getPrototypeOf(browser);
  if (patched.has(shape)) return browser;
  patched.add(shape);
  for (const name of ['newContext', 'newPage']) {
    const method = shape[name];
    shape[name] = async function (...args) {
      const made = await method.apply(this, args);
      hear(name === 'newPage' ? made.context() : made);
      return made;
    };
  }
  return browser;
}
for (const name of ['launch', 'connect', 'connectOverCDP']) {
  const method = chromium[name];
  chromium[name] = async function (...args) {
    return hearBrowser(await method.apply(this, args));
  };
}
const persistent = chromium.launchPersistentContext;
chromium.launchPersistentContext = async function (...args) {
  const context = await persistent.apply(this, args);
  hear(context);
  return context;
};
