// Our language server, as editors drive it: over the protocol, and in Neovim where the machine has it.
import { spawnSync } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { EditorSession, placeIn } from './helpers/lsp.js';
import { projectFolder } from './helpers/shop.js';

const work = fs.mkdtempSync(path.join(os.tmpdir(), 'baywright-editor-'));
const shop = path.join(work, 'shop');
fs.cpSync(path.join(projectFolder, 'examples'), shop, { recursive: true });
const bin = path.join(projectFolder, 'bin/baywright.js');
const uriOf = (name: string) => pathToFileURL(path.join(shop, name)).href;
const textOf = (name: string) => fs.readFileSync(path.join(shop, name), 'utf8');
const pump = 'procedures/coolant-pump.yaml';

describe('over the protocol', () => {
  const session = new EditorSession(process.execPath, [bin, 'editor', '--stdio'], shop);
  const at = (method: string, name: string, needle: string, offset: number, text = textOf(name)) =>
    session.connection.sendRequest<unknown>(method, { textDocument: { uri: uriOf(name) }, position: placeIn(text, needle, offset) });
  beforeAll(async () => {
    const { capabilities } = await session.start(pathToFileURL(shop).href);
    expect(capabilities).toMatchObject({
      definitionProvider: true,
      hoverProvider: true,
      completionProvider: expect.anything(),
      codeActionProvider: expect.anything(),
    });
    await session.open(uriOf(pump), textOf(pump));
  }, 60_000);
  afterAll(() => session.stop());

  it('finds as you type what `check` finds, and forgets it when it is mended', async () => {
    const wrong = textOf(pump).replace('- tighten: pump-bolts', '- tigthen: pump-bolts');
    await session.change(uriOf(pump), 2, wrong);
    const found = await session.found(uriOf(pump), (all) => all.length > 0);
    const { line, character } = placeIn(wrong, 'tigthen');
    expect(found).toMatchObject([
      { code: 'schema/unknown-key', severity: 1, range: { start: { line, character }, end: { line, character: character + 7 } } },
    ]);
    await session.change(uriOf(pump), 3, textOf(pump));
    expect(await session.found(uriOf(pump), (all) => all.length === 0)).toEqual([]);
  }, 60_000);

  it('what is no text is passed over, and the next change is looked at', async () => {
    const { connection } = session;
    for (const text of [null, 5, undefined])
      await connection.sendNotification('textDocument/didChange', {
        textDocument: { uri: uriOf(pump), version: 4 },
        contentChanges: [{ text }],
      });
    await connection.sendNotification('textDocument/didOpen', {
      textDocument: { uri: uriOf(pump), languageId: 'yaml', version: 5, text: null },
    });
    await session.change(uriOf(pump), 6, textOf(pump).replace('- tighten: pump-bolts', '- tigthen: pump-bolts'));
    await session.found(uriOf(pump), (all) => all.length > 0);
    await session.change(uriOf(pump), 7, textOf(pump));
    expect(await session.found(uriOf(pump), (all) => all.length === 0)).toEqual([]);
  }, 60_000);

  it('a fault in one file shows in another: a joint renamed in the profile', async () => {
    const profile = 'vehicles/tarrock-35.yaml';
    await session.open(uriOf(profile), textOf(profile).replace('  pump-bolts:', '  pump-screws:'));
    const found = await session.found(uriOf(pump), (all) => all.some((one) => one.code === 'reference/unknown-name'));
    expect(found[0]?.message).toMatch(/pump-bolts/);
    await session.change(uriOf(profile), 2, textOf(profile));
    await session.found(uriOf(pump), (all) => all.length === 0);
  }, 60_000);

  it('goes to the definition of a joint, a part, a preparation and a tool', async () => {
    const lineOf = (name: string, needle: string) => placeIn(textOf(name), needle).line;
    const profile = 'vehicles/tarrock-35.yaml';
    expect(await at('textDocument/definition', pump, 'tighten: pump-bolts', 12)).toMatchObject({
      uri: uriOf(profile),
      range: { start: { line: lineOf(profile, '  pump-bolts:') } },
    });
    expect(await at('textDocument/definition', pump, 'remove: coolant-pump', 12)).toMatchObject({
      uri: uriOf(profile),
      range: { start: { line: lineOf(profile, '  coolant-pump:') } },
    });
    expect(await at('textDocument/definition', pump, '- timing-belt-off', 5)).toMatchObject({
      uri: uriOf('procedures/timing-belt-off.yaml'),
    });
    expect(await at('textDocument/definition', pump, 'coolant-drained:', 3)).toMatchObject({
      uri: expect.stringMatching(/procedures\/coolant-drained\.yaml$/),
    });
    const hub = 'procedures/hub-bearing.yaml';
    await session.open(uriOf(hub), textOf(hub));
    expect(await at('textDocument/definition', hub, 'with: [hub-press]', 9)).toMatchObject({
      uri: uriOf('shop.yaml'),
      range: { start: { line: lineOf('shop.yaml', '  hub-press:') } },
    });
  }, 60_000);

  it('hover shows a torque in both units with what it loads the bolt to', async () => {
    const hover = (await at('textDocument/hover', pump, 'tighten: pump-bolts', 12)) as { contents: { value: string } };
    expect(hover.contents.value).toMatch(/10 N·m \(7\.38 lbf·ft\)/);
    expect(hover.contents.value).toMatch(/89 % of its proof load/);
  }, 60_000);

  it('completes names in scope: joints and parts after `tighten`, preparations under `needs`, tools after `with`', async () => {
    const text = textOf(pump).replace('- tighten: pump-bolts', '- tighten: pu');
    await session.change(uriOf(pump), 9, text);
    const labels = async (needle: string, offset: number) =>
      ((await at('textDocument/completion', pump, needle, offset, text)) as { label: string }[]).map((one) => one.label);
    const joints = await labels('tighten: pu', 11);
    expect(joints).toEqual(expect.arrayContaining(['pump-bolts', 'head-bolts', 'coolant-pump']));
    expect(joints).not.toContain('crank-pin');
    expect(await labels('- timing-belt-off', 5)).toEqual(expect.arrayContaining(['vehicle-raised', 'timing-belt-off']));
    await session.change(uriOf(pump), 10, textOf(pump));
  }, 60_000);

  it('offers the fixes that are certain', async () => {
    const wrong = textOf(pump).replace('- tighten: pump-bolts', '- tigthen: pump-bolts');
    await session.change(uriOf(pump), 11, wrong);
    await session.found(uriOf(pump), (all) => all.length > 0);
    const place = placeIn(wrong, 'tigthen');
    const actions: { title: string; edit: { changes: Record<string, { newText: string }[]> } }[] = await session.connection.sendRequest(
      'textDocument/codeAction',
      {
        textDocument: { uri: uriOf(pump) },
        range: { start: place, end: place },
        context: { diagnostics: [] },
      },
    );
    expect(actions).toMatchObject([{ title: 'Write `tighten`', edit: { changes: { [uriOf(pump)]: [{ newText: 'tighten' }] } } }]);
    await session.change(uriOf(pump), 12, textOf(pump));
  }, 60_000);

  it('serves several shops at once, and tells again what is found in a file that is opened again', async () => {
    const other = path.join(work, 'other');
    fs.cpSync(path.join(projectFolder, 'tests/fixtures/corner-garage'), other, { recursive: true });
    const file = path.join(other, 'procedures/thermostat-pump.yaml');
    const uri = pathToFileURL(file).href;
    const wrong = fs.readFileSync(file, 'utf8').replace('  - fit: splash-shield\n', '');
    // What is kept of an earlier check is of the text on disk.
    expect(spawnSync(process.execPath, [bin, 'check'], { cwd: other }).status).toBe(0);
    await session.open(uri, wrong);
    const found = await session.found(uri, (all) => all.length > 0);
    expect(found.map((one) => one.code)).toContain('ledger/left-open');
    await session.change(uriOf(pump), 13, textOf(pump).replace('- tighten: pump-bolts', '- tigthen: pump-bolts'));
    await session.found(uriOf(pump), (all) => all.length > 0);
    await session.change(uriOf(pump), 14, textOf(pump));
    await session.found(uriOf(pump), (all) => all.length === 0);
    await session.connection.sendNotification('textDocument/didClose', { textDocument: { uri } });
    await session.found(uri, (all) => all.length === 0);
    const heard = session.hear(uri);
    await session.open(uri, fs.readFileSync(file, 'utf8'));
    expect(await heard).toEqual([]);
  }, 60_000);

  it('answers in documents that do not parse, and outside any library, without failing', async () => {
    await session.change(uriOf(pump), 15, 'kind: [\n  - tighten: ');
    expect(await at('textDocument/hover', pump, 'tighten: ', 9, 'kind: [\n  - tighten: ')).toBeNull();
    const lost = pathToFileURL(path.join(os.tmpdir(), 'nowhere.yaml')).href;
    await session.open(lost, 'a: b');
    expect(
      await session.connection.sendRequest('textDocument/definition', { textDocument: { uri: lost }, position: { line: 0, character: 3 } }),
    ).toBeNull();
  }, 60_000);

  it('passes over documents that are no files: new ones, sides of a comparison', async () => {
    for (const uri of [
      'untitled:Untitled-1',
      'git:/shop/procedures/x.yaml?ref=HEAD',
      'file://server/share/x.yaml',
      'file:///a%2Fb.yaml',
      'x',
    ]) {
      const document = { textDocument: { uri }, position: { line: 0, character: 1 } };
      const asked = { ...document, range: { start: document.position, end: document.position }, context: { diagnostics: [] } };
      await session.open(uri, 'kind: job\n');
      await session.change(uri, 2, 'kind: job\nid: x\n');
      expect(await session.connection.sendRequest('textDocument/hover', document)).toBeNull();
      expect(await session.connection.sendRequest('textDocument/definition', document)).toBeNull();
      expect(await session.connection.sendRequest('textDocument/completion', document)).toEqual([]);
      expect(await session.connection.sendRequest('textDocument/codeAction', asked)).toEqual([]);
      await session.connection.sendNotification('textDocument/didClose', { textDocument: { uri } });
    }
  }, 60_000);
});

describe('an editor that goes away', () => {
  const said = (input: string) => spawnSync(process.execPath, [bin, 'editor'], { cwd: shop, input, encoding: 'utf8', timeout: 30_000 });
  const message = (text: string) => `Content-Length: ${Buffer.byteLength(text)}\r\n\r\n${text}`;

  it('ends the server, also in the middle of a message and with a library open', () => {
    const begin = message('{"jsonrpc":"2.0","id":1,"method":"initialize","params":{"processId":null,"rootUri":null,"capabilities":{}}}');
    const opened = { textDocument: { uri: uriOf(pump), languageId: 'yaml', version: 1, text: 'kind: [' } };
    const open = message(JSON.stringify({ jsonrpc: '2.0', method: 'textDocument/didOpen', params: opened }));
    const { status, signal, stdout, stderr } = said(`${begin}${open}Content-Length: 999999\r\n\r\n{`);
    expect([status, signal, stderr]).toEqual([0, null, '']);
    expect(stdout).toMatch(/yaml\/syntax/);
  });

  it('is told in words what was wrong with its last message', () => {
    for (const input of ['x\r\n\r\n', message('[]'), message('{'), 'Content-Length: -5\r\n\r\n{}']) {
      const { status, stderr } = said(input);
      expect([input, status, stderr]).toEqual([input, 0, '']);
    }
  });
});

describe('a library that goes away', () => {
  it('is looked at anew where it comes again', async () => {
    const other = path.join(work, 'other');
    const copy = () => fs.cpSync(path.join(projectFolder, 'tests/fixtures/corner-garage'), other, { recursive: true });
    copy();
    const file = path.join(other, 'procedures/thermostat-pump.yaml');
    const uri = pathToFileURL(file).href;
    const text = fs.readFileSync(file, 'utf8');
    const session = new EditorSession(process.execPath, [bin, 'editor'], other);
    await session.start(pathToFileURL(other).href);
    await session.open(uri, text.replace('  - fit: splash-shield\n', ''));
    await session.found(uri, (all) => all.length > 0);
    fs.renameSync(other, `${other}-before`);
    await session.found(uri, (all) => all.length === 0);
    copy();
    await session.change(uri, 2, text.replace('  - fit: splash-shield\n', ' '));
    await session.found(uri, (all) => all.length > 0);
    await session.change(uri, 3, text);
    await session.found(uri, (all) => all.length === 0);
    // What other programs do in it is seen again, too.
    fs.writeFileSync(path.join(other, 'more.yaml'), 'kind: [\n');
    await session.found(pathToFileURL(path.join(other, 'more.yaml')).href, (all) => all.length > 0);
    await session.stop();
  }, 60_000);
});

const neovim = spawnSync('nvim', ['--version']).error === undefined;
if (!neovim) console.warn('SKIPPED: Neovim is not installed; the language server is not tried in it.');

describe.skipIf(!neovim)('in Neovim, with its own client', () => {
  it('shows the findings of the file, and goes to a definition', () => {
    const file = path.join(shop, 'procedures/hub-bearing.yaml');
    const text = fs.readFileSync(file, 'utf8');
    fs.writeFileSync(file, text.replace('- tighten: disc-screw', '- tigthen: disc-screw'));
    const script = path.join(work, 'try.lua');
    fs.writeFileSync(
      script,
      `vim.cmd('edit ${file}')
vim.lsp.start_client({ name = 'baywright', cmd = { '${process.execPath}', '${bin}', 'editor', '--stdio' }, root_dir = '${shop}', on_init = function(client) vim.lsp.buf_attach_client(0, client.id) end })
vim.wait(20000, function() return #vim.diagnostic.get(0) > 0 end, 100)
local found = vim.diagnostic.get(0)
local out = {}
for _, one in ipairs(found) do table.insert(out, (one.lnum + 1) .. ' ' .. one.code .. ' ' .. one.message) end
local line = vim.fn.search('caliper-bolts')
local place = { textDocument = vim.lsp.util.make_text_document_params(0), position = { line = line - 1, character = 14 } }
local answers = vim.lsp.buf_request_sync(0, 'textDocument/definition', place, 10000)
for _, one in pairs(answers or {}) do if one.result then table.insert(out, 'definition ' .. one.result.uri) end end
vim.fn.writefile(out, '${path.join(work, 'out.txt')}')
vim.cmd('qall!')
`,
    );
    spawnSync('nvim', ['--headless', '--clean', '-c', `luafile ${script}`], { encoding: 'utf8', timeout: 50_000 });
    const out = fs.readFileSync(path.join(work, 'out.txt'), 'utf8');
    fs.writeFileSync(file, text);
    expect(out).toMatch(/\d+ schema\/unknown-key `tigthen` is not a key of a step\. Did you mean `tighten`/);
    expect(out).toMatch(/definition .*vehicles\/pellan-14\.yaml/);
  }, 60_000);
});

afterAll(() => fs.rmSync(work, { recursive: true, force: true }));
