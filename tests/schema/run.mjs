// Holds docs/production.schema.json and the reader together, in both directions, on thousands of
// documents: good productions, and each with one thing changed.
//
//   node run.mjs READER_TOOL [--seed=N]
//
// - What the schema refuses, the reader refuses.
// - What the reader accepts, the schema accepts.
// - What the reader refuses and the schema accepts is one of the kinds that a schema cannot say
//   (kReaderOnly below, the same list as in docs/production-format.md), and every kind comes up.
// - A default that the schema names is the reader's: given or not, it is the same production.
// - The tables of docs/production-format.md have the keys of the schema, and no others.
//
// The validator is ajv, a general-purpose one for JSON Schema draft 2020-12, from npm.
import { spawnSync } from 'node:child_process';
import { readFileSync, readdirSync, existsSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const here = dirname(fileURLToPath(import.meta.url));
const root = join(here, '..', '..');
let Ajv;
try {
  ({ default: { default: Ajv } } = await import('ajv/dist/2020.js'));
} catch (error) {
  console.error('The validator is not installed: run `npm ci` in tests/schema (tests/run does).');
  console.error(String(error.message).split('\n')[0]);
  process.exit(1);
}
const tool = process.argv[2];
if (!tool) {
  console.error('usage: node run.mjs READER_TOOL [--seed=N]');
  process.exit(64);
}
const seed = Number((process.argv.find((a) => a.startsWith('--seed=')) ?? '--seed=20270417').slice(7));
console.log(`seed ${seed} (run again with --seed=${seed})`);

const schema = JSON.parse(readFileSync(join(root, 'docs', 'production.schema.json'), 'utf8'));
// strict: a misspelt keyword in the schema is an error too
const validate = new Ajv({ strict: true, strictRequired: false, allErrors: false }).compile(schema);

// What only the reader can see: a name, the words it is told in, and a document that shows it.
const kReaderOnly = [
  ['a key twice in one object', /: the key ".*" a second time /],
  ['an id twice in its list', /: the id ".*" a second time /],
  ['a date twice among the days', /: the date \S+ a second time /],
  ['a meal twice on a day', /: the meal ".*" a second time /],
  ['a role twice in a scene', /: the role ".*" a second time /],
  ['an item twice among the props of a scene', /: the item ".*" a second time /],
  ['an id that points nowhere', / \/ the id of an? [a-z]+( in "[a-z]+"| \(the file has no "[a-z]+"\))$/],
  ['a day of a scene that is none of the days', / \/ the date of one of the "days"$/],
  ['a date no calendar has', / \/ a date(,| such as) /],
  ['a date the zone does not have', / does not have \/ a date on the calendar of that zone$/],
  ['a zone the database does not know', / \/ the name of a time zone /],
  ['a span that does not end after it begins', /, which does not end after it begins /],
  ['a span the change of clocks turns round', / ends before it begins \(the clocks change\) /],
  ['a wrap_by before the day begins', /, when the day has not begun /],
  ['a meal longer than its span', /: a meal of \d+ minutes in \d+ /],
  ['more than three decimals', / with at most 3 decimals$/],
  ['several people for a part', / people for a part \/ 1 /],
  ['an item instead of itself', / instead of itself /],
  ['a way from a place to itself', /: the way from a place to itself /],
  ['a like that names nothing', / \/ the id of a role or of somebody else, or a job /],
  ['sizes from the larger to the smaller', /, from the larger to the smaller \/ /],
  ['a guardian of oneself, alone or round a circle', /( as their own guardian|: a circle of guardians: )/],
  ['a birthday after the last day', /: a birthday after the last shooting day /],
  ['a step nobody can do', /(: a step nobody can do: |, the only one who can do )/],
  ['a part nobody may play', /: a part nobody may play /],
  ['more than 20 000 calls of cast and crew', /^scenes.*: more than 20000 entries of cast and crew /],
  ['scenes after each other in a circle', /(" after itself |: a circle: )/],
  ['light without a place on the map', /, and no place on the map to reckon the sun for /],
];

// --- a small generator of our own, the same on every machine
let state = BigInt(seed);
const random = (below) => {
  state = (state * 6364136223846793005n + 1442695040888963407n) & ((1n << 64n) - 1n);
  return Number((state >> 33n) % BigInt(below));
};

// --- the documents: [text, what it is]
const documents = [];
const copy = (value) => JSON.parse(JSON.stringify(value));
const add = (value, what) => documents.push([JSON.stringify(value), what]);

const good = [];
const folder = join(here, '..', 'data', 'productions');
const files = readdirSync(folder).filter((n) => n.endsWith('.json')).map((n) => join(folder, n));
const demos = join(root, 'demo');
for (const name of existsSync(demos) ? readdirSync(demos) : []) {
  const file = join(demos, name, 'production.json');
  if (existsSync(file)) files.push(file);
}
for (const file of files) {
  const value = JSON.parse(readFileSync(file, 'utf8'));
  good.push([value, file]);
  add(value, file);
}
const lighthouse = good.find(([, file]) => file.endsWith('lighthouse.json'))[0];

// every place in a document, as a list of keys
function* places(value, path = []) {
  yield path;
  if (value !== null && typeof value === 'object') {
    for (const key of Object.keys(value)) yield* places(value[key], [...path, Array.isArray(value) ? Number(key) : key]);
  }
}
const at = (value, path) => path.reduce((v, key) => v[key], value);
function changed(value, path, change) {
  const result = copy(value);
  if (path.length === 0) return change(result);
  const parent = at(result, path.slice(0, -1));
  const key = path[path.length - 1];
  const fresh = change(parent[key]);
  if (fresh !== undefined) parent[key] = fresh;
  else if (Array.isArray(parent)) parent.splice(key, 1);
  else delete parent[key];
  return result;
}

// what is put in the place of anything
const kOthers = [
  null, true, false, 0, 1, -1, 2, 0.5, 1.5, 1.25, 60, 61, 90, 91, -90, -180, 180, 181, 1000, 1001, 1440, 1441, 10000,
  10001, 1000000, 1000001, 1e9, 1e300, '', ' ', 'x', 'bo', 'any', 'a b', 'a\nb', 'a\u0000b', 'a\u0085b', 'a\u2028b',
  ' x', 'x ', '9:30', '09:30', '23:59', '25:30', '99:59', '09:60', '09:30-10:00', '12:00-14:30', '22:00-02:00', '2027-04-17 22:00-02:00', '09:30-9:40',
  '2027-04-17', '2027-4-17', '2027-13-01', '2027-04-31', '1999-12-31', '2100-01-01', '2027-04-17 09:00-13:00',
  '2027-04-17  09:00-13:00', 'en-GB', 'en_GB', 'e', 'toolongsubtag', 'yes', 'A4', 'Letter', 'least-time', 'dusk', 'UTC',
  'Zoë', '李小龍', 'नमस्ते', '🎬', 'a—b', 'a.b', '\ufeffa', '\u00d7', '1', [], ['bo'], ['bo', 'bo'], ['fog'], [''], [1],
  [[]], {}, { id: 'fresh' }, [{}], [{ id: 'fresh' }], { head_cm: 57 }, { 'a b': 1 },
  'en-abcdefgh-abcdefgh-abcdefgh-abcde', 'en-abcdefgh-abcdefgh-abcdefgh-abcdef', 'x'.repeat(64), 'x'.repeat(65), 'é'.repeat(200), 'é'.repeat(201), 'x'.repeat(2000), 'x'.repeat(2001),
];
for (const path of places(lighthouse)) {
  const what = path.join('.');
  for (const other of kOthers) add(changed(lighthouse, path, () => other), `${what} = ${JSON.stringify(other)}`.slice(0, 120));
  const value = at(lighthouse, path);
  if (path.length > 0) add(changed(lighthouse, path, () => undefined), `${what} taken out`);
  if (Array.isArray(value)) {
    add(changed(lighthouse, path, (v) => [...v, v[0]]), `${what} with its first entry twice`);
    add(changed(lighthouse, path, () => []), `${what} empty`);
  } else if (value !== null && typeof value === 'object') {
    for (const key of ['x', 'Id', 'id', 'name', 'notes', 'minutes', 'people', 'from', '']) {
      if (!(key in value)) for (const extra of [1, 'x', ['bo']]) add(changed(lighthouse, path, (v) => ({ ...v, [key]: extra })), `${what} with ${key}`);
    }
  } else if (typeof value === 'number') {
    for (const by of [-1, 1, 0.5, 0.125, 0.0005]) add(changed(lighthouse, path, (v) => v + by), `${what} ${by} more`);
  } else if (typeof value === 'string') {
    add(changed(lighthouse, path, (v) => v + 'x'), `${what} with x`);
    add(changed(lighthouse, path, (v) => v.slice(1)), `${what} without its first letter`);
    add(changed(lighthouse, path, (v) => v.toUpperCase()), `${what} in capitals`);
  }
}
// any number of optional things taken out at once: still good where nothing points there
for (let round = 0; round < 300; ++round) {
  let value = lighthouse;
  for (let i = 1 + random(6); i > 0; --i) {
    const all = [...places(value)].filter((path) => path.length > 0);
    value = changed(value, all[random(all.length)], () => undefined);
  }
  add(value, `lighthouse with things taken out, round ${round}`);
}
// long lists, and what the changes above cannot reach
const least = { greasepaint: 1, title: 'x', days: [{ date: '2027-04-17' }] };
const many = (count, entry) => Array.from({ length: count }, (_, i) => entry(i));
add({ ...least, people: many(5000, (i) => ({ id: `p${i}` })) }, '5000 people');
add({ ...least, people: many(5001, (i) => ({ id: `p${i}` })) }, '5001 people');
const date = (i) => new Date(Date.UTC(2027, 0, 1 + i)).toISOString().slice(0, 10);
add({ ...least, days: many(366, (i) => ({ date: date(i) })) }, '366 days');
add({ ...least, days: many(367, (i) => ({ date: date(i) })) }, '367 days');
add({ ...least, zone: 'Pacific/Apia', days: [{ date: '2011-12-30' }] }, 'no such date there');
add({ ...least, zone: 'Europe/Dublin', days: [{ date: '2027-03-28' }], stations: [{ id: 's', open: '01:30-02:00' }] }, 'clocks');
add({ ...least, days: [{ date: '2027-04-17' }, { date: '2027-04-17' }] }, 'date twice');
add({ ...least, people: [{ id: 'a' }], roles: [{ id: 'r', needs: ['x'] }] }, 'part nobody may play');
add({ ...least, people: [{ id: 'a', born: '2030-01-01' }] }, 'born late');
add({ ...least, scenes: [{ id: 'a', after: ['b'] }, { id: 'b', after: ['a'] }] }, 'circle');
add({ ...least, items: [{ id: 'a', instead: ['a'] }] }, 'instead of itself');
add({ ...least, places: [{ id: 'a', minutes_to: { a: 1 } }] }, 'way to itself');
add({ ...least, people: [{ id: 'a', guardian: 'a' }] }, 'own guardian');
for (const size of ['56-58', '0-10000', '58-56', '57-57', '56.5-58.125', '56.5-58.1256', '10001-10002', '10000.5-10000', '056-58', '56 - 58', '-58', '56-', '56', '.5-1', '1.-2', '1e1-20', 57, 57.5, 10000, 10001, -1, '0-99999']) {
  add({ ...least, items: [{ id: 'a', fits: { head_cm: size } }] }, `fits ${size}`);
}
add({ ...least, roles: [{ id: 'a' }], scenes: [{ id: 's', cast: [{ role: 'a', people: 2 }] }] }, 'two for a part');
add({ ...least, roles: [{ id: 'a' }], scenes: [{ id: 's', cast: [{ role: 'a' }, { role: 'a' }] }] }, 'role twice');
add({ ...least, items: [{ id: 'a' }], scenes: [{ id: 's', props: [{ item: 'a' }, { item: 'a' }] }] }, 'item twice');
add({ ...least, days: [{ date: '2027-04-17', meals: many(2, () => ({ name: 'x', minutes: 1, between: '12:00-13:00' })) }] }, 'meal twice');
add({ ...least, roles: [{ id: 'r', crowd: true, person: 'a' }], people: [{ id: 'a' }] }, 'crowd fixed to a person');
// as text, since an object here cannot hold a key twice
documents.push(['{"greasepaint": 1, "title": "x", "title": "x", "days": [{"date": "2027-04-17"}]}', 'key twice']);
add({ ...least, units: [{ id: 'u', crew: many(200, (i) => ({ job: `j${i}` })) }], scenes: many(101, (i) => ({ id: `s${i}` })) }, 'too many calls');
// characters in an id: all where the rule has its edges, some of the long rows of letters between
for (let code = 0x20; code <= 0xffff; ++code) {
  if (code >= 0xd800 && code <= 0xdfff) continue;
  const edge = code < 0x180 || (code >= 0x1670 && code < 0x1690) || (code >= 0x1ff0 && code < 0x2090) ||
    (code >= 0x2ff0 && code < 0x3020) || code >= 0xfef0;
  if (edge || code % 97 === 0) add({ ...least, places: [{ id: String.fromCodePoint(code) }] }, `id U+${code.toString(16)}`);
}

// a default written out is the same as none: pairs of documents, compared once they are read
const kDefaults = [];
function defaults(node, value, path) {
  if (node.$ref) {
    defaults(schema.$defs[node.$ref.slice('#/$defs/'.length)], value, path);
  }
  if (node.items && Array.isArray(value)) value.forEach((entry, i) => defaults(node.items, entry, [...path, i]));
  if (!node.properties || value === null || typeof value !== 'object') return;
  for (const [key, property] of Object.entries(node.properties)) {
    const target = property.$ref && !('default' in property) ? schema.$defs[property.$ref.slice(8)] : property;
    if (target && 'default' in target) {
      const without = changed(lighthouse, path, (v) => { const { [key]: _, ...rest } = v; return rest; });
      const given = changed(lighthouse, path, (v) => ({ ...v, [key]: target.default }));
      const name = [...path, key].join('.');
      kDefaults.push([name, documents.length]);
      add(without, `${name} not given`);
      add(given, `${name} given as its default`);
    }
    if (key in value) defaults(property, value[key], [...path, key]);
  }
}
defaults(schema, lighthouse, []);

// --- both judge
const run = spawnSync(tool, { input: documents.map(([text]) => text).join('\n') + '\n', maxBuffer: 1 << 30, encoding: 'utf8' });
if (run.status !== 0) {
  console.error(`${tool} ended with ${run.status ?? run.signal ?? run.error}`);
  process.exit(1);
}
const written = run.stdout.trimEnd().split('\n').map((line) => JSON.parse(line));
const answers = written.map((answer) => (typeof answer === 'string' ? [] : answer));
const wrong = [];
const seen = new Map(kReaderOnly.map(([name]) => [name, 0]));
let both_accept = 0;
let both_refuse = 0;
let reader_only = 0;
if (answers.length !== documents.length) wrong.push(`${documents.length} documents, ${answers.length} answers`);
documents.forEach(([text, what], i) => {
  const faults = answers[i] ?? [];
  const allowed = validate(JSON.parse(text));
  if (!allowed && faults.length === 0) {
    const error = validate.errors[0];
    wrong.push(`${what}: the reader accepts it, the schema says ${error.instancePath} ${error.message}`);
  } else if (!allowed) {
    ++both_refuse;
  } else if (faults.length === 0) {
    ++both_accept;
  } else {
    ++reader_only;
    for (const fault of faults) {
      const kind = kReaderOnly.find(([, words]) => words.test(fault));
      if (!kind) wrong.push(`${what}: the schema accepts it, the reader says ${fault}`);
      else seen.set(kind[0], seen.get(kind[0]) + 1);
    }
  }
});
for (const [value, file] of good) {
  const faults = answers[documents.findIndex(([, what]) => what === file)];
  if (faults.length > 0) wrong.push(`${file} should be good: ${faults[0]}`);
}
for (const [name, count] of seen) if (count === 0) wrong.push(`never seen: ${name}`);

for (const [name, first] of kDefaults) {
  const [without, given] = [written[first], written[first + 1]];
  // both may have the same fault (the unit `main` of a production that has others …), never different ones
  if (JSON.stringify(without) !== JSON.stringify(given)) wrong.push(`${name}: its default is not what the schema says`);
}
if (kDefaults.length < 50) wrong.push('too few defaults seen');

// --- the keys: lighthouse has every key of the schema (what it may hold, the reader was asked above)
const kKeys = new Map();  // definition -> keys seen in lighthouse
function walk(node, value, name) {
  if (node.$ref) return walk(schema.$defs[node.$ref.slice('#/$defs/'.length)], value, node.$ref);
  if (node.items && Array.isArray(value)) value.forEach((entry) => walk(node.items, entry, name));
  if (node.properties && value !== null && typeof value === 'object') {
    if (!kKeys.has(node)) kKeys.set(node, [name, new Set()]);
    for (const key of Object.keys(value)) {
      kKeys.get(node)[1].add(key);
      if (node.properties[key]) walk(node.properties[key], value[key], `${name}.${key}`);
    }
  }
}
walk(schema, lighthouse, 'production');
for (const [node, [name, keys]] of kKeys) {
  for (const key of Object.keys(node.properties)) if (!keys.has(key)) wrong.push(`lighthouse.json never uses ${name}.${key}`);
}
// --- and the page says the same kinds
const page = readFileSync(join(root, 'docs', 'production-format.md'), 'utf8');
for (const [name] of kReaderOnly) if (!page.includes(`- ${name}`)) wrong.push(`docs/production-format.md does not list: ${name}`);

const tables = new Map();
let heading = '';
for (const line of page.split('\n')) {
  const title = line.match(/^#{2,3} ([a-z]+)$/);
  if (title) tables.set((heading = title[1]), new Set());
  else if (line.startsWith('#')) heading = '';
  const row = heading && line.match(/^\| (`[^|]*`) \|/);
  if (row) for (const [, key] of row[1].matchAll(/`([^`]+)`/g)) tables.get(heading).add(key);
}
const objects = Object.entries(schema.$defs).filter(([, node]) => node.properties);
objects.push(['production', schema], ['contact', schema.properties.contact]);
for (const [name, node] of objects) {
  const told = tables.get(name) ?? new Set();
  for (const key of Object.keys(node.properties)) if (!told.has(key)) wrong.push(`docs/production-format.md has no ${name}.${key}`);
  for (const key of told) if (!(key in node.properties)) wrong.push(`docs/production-format.md has ${name}.${key}, the schema not`);
}

console.log(`${documents.length} documents: ${both_accept} both accept, ${both_refuse} both refuse, ` +
  `${reader_only} only the reader refuses, of ${kReaderOnly.length} kinds`);
if (both_accept < 500 || both_refuse < 1000 || reader_only < 100) wrong.push('too few of one sort to mean anything');
for (const line of wrong.slice(0, 40)) console.error(`wrong: ${line}`);
if (wrong.length > 40) console.error(`… and ${wrong.length - 40} more`);
process.exit(wrong.length > 0 ? 1 : 0);
