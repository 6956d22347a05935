// The schemas in a real YAML language server, driven over its standard input and output as an editor drives it.
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { verbNames } from '../src/ledger/verbs.js';
import { EditorSession, placeIn } from './helpers/lsp.js';
import { projectFolder } from './helpers/shop.js';

const examples = path.join(projectFolder, 'examples');
const uri = pathToFileURL(path.join(examples, 'procedures/new-work.yaml')).href;
const schema = (kind: string) => `# yaml-language-server: $schema=../../schemas/${kind}.schema.json\n`;
const session = new EditorSession(
  process.execPath,
  [path.join(projectFolder, 'node_modules/yaml-language-server/bin/yaml-language-server'), '--stdio'],
  examples,
);

beforeAll(async () => {
  await session.start(pathToFileURL(examples).href);
  await session.connection.sendNotification('workspace/didChangeConfiguration', {
    settings: { yaml: { validate: true, hover: true, completion: true } },
  });
}, 60_000);
afterAll(() => session.stop());

interface Item {
  readonly label: string;
  readonly documentation?: string | { readonly value: string };
}
const wordsOf = (item: Item | undefined): string =>
  typeof item?.documentation === 'string' ? item.documentation : (item?.documentation?.value ?? '');
const labelsAt = async (text: string, at: { line: number; character: number }, document = uri): Promise<Item[]> => {
  await session.open(document, text);
  const result: { items: Item[] } | Item[] = await session.connection.sendRequest('textDocument/completion', {
    textDocument: { uri: document },
    position: at,
  });
  return Array.isArray(result) ? result : result.items;
};

it('completion inside a step lists every verb, each with its explanation', async () => {
  const text = `${schema('procedure')}kind: procedure\nid: new-work\nname: New work\nsteps:\n  - \n`;
  const items = await labelsAt(text, { line: 5, character: 4 });
  for (const verb of verbNames) {
    const item = items.find((one) => one.label === verb);
    expect(item, verb).toBeDefined();
    expect(wordsOf(item).length, verb).toBeGreaterThan(10);
  }
}, 60_000);

it('hover on `stages` explains it', async () => {
  const other = pathToFileURL(path.join(examples, 'vehicles/new-van.yaml')).href;
  const text = `${schema('vehicle')}kind: vehicle\nid: new-van\nname: New van\nfasteners:\n  pump-bolts:\n    count: 4\n    stages:\n      - torque: 10 N·m\n`;
  await session.open(other, text);
  const hover: { contents: { value: string } } = await session.connection.sendRequest('textDocument/hover', {
    textDocument: { uri: other },
    position: placeIn(text, 'stages:', 2),
  });
  expect(hover.contents.value).toMatch(/The stages of tightening, in order/);
}, 60_000);

it('a wrong key and a wrong value are flagged at their place; the demo is not', async () => {
  const wrong = pathToFileURL(path.join(examples, 'procedures/wrong.yaml')).href;
  const text = `${schema('procedure')}kind: procedure\nid: wrong\nname: Wrong\nsteps:\n  - remvoe: cover\n  - tighten: bolts\n    wheels: in-the-air\n`;
  await session.open(wrong, text);
  const found = await session.found(wrong, (all) => all.length > 0);
  expect(found.map((one) => one.range.start.line)).toContain(5);
  expect(found.some((one) => /remvoe/.test(one.message))).toBe(true);
  expect(found.some((one) => one.range.start.line === 7)).toBe(true);
}, 60_000);

it('completion of a stage, of threads and of the shop', async () => {
  const van = pathToFileURL(path.join(examples, 'vehicles/other-van.yaml')).href;
  const text = `${schema('vehicle')}kind: vehicle\nid: other-van\nname: Other van\nfasteners:\n  pump-bolts:\n    threads: \n    stages:\n      - \n`;
  const stages = (await labelsAt(text, { line: 8, character: 8 }, van)).map((one) => one.label);
  for (const key of ['torque', 'angle', 'by-hand', 'back-off', 'wait', 'repeat', 'window', 'ladder']) expect(stages).toContain(key);
  const values: { items: Item[] } | Item[] = await session.connection.sendRequest('textDocument/completion', {
    textDocument: { uri: van },
    position: { line: 6, character: 13 },
  });
  const threads = (Array.isArray(values) ? values : values.items).map((one) => one.label);
  expect(threads).toEqual(expect.arrayContaining(['dry', 'oiled', 'threadlocker', 'as supplied']));
}, 60_000);
