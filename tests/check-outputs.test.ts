// What `check` gives to other programs, and what the shop decides about findings.
import { spawnSync } from 'node:child_process';
import fs from 'node:fs';
import { createRequire } from 'node:module';
import os from 'node:os';
import path from 'node:path';
import { sarifToMarkdown } from '@security-alert/sarif-to-markdown';
import { Ajv } from 'ajv';
import fc from 'fast-check';
import { afterAll, describe, expect, it } from 'vitest';
import { blocksOf } from '../src/cli/reporters/terminal.js';
import { projectFolder } from './helpers/shop.js';

const work = fs.mkdtempSync(path.join(os.tmpdir(), 'baywright-out-'));
afterAll(() => fs.rmSync(work, { recursive: true, force: true }));

const run = (args: string[], cwd: string) =>
  spawnSync(process.execPath, [path.join(projectFolder, 'bin/baywright.js'), ...args], { cwd, encoding: 'utf8' });

/** The demo shop with some texts changed. */
function shop(name: string, ...changes: [file: string, from: string, to: string][]): string {
  const folder = path.join(work, name);
  fs.cpSync(path.join(projectFolder, 'examples'), folder, { recursive: true });
  for (const [file, from, to] of changes) {
    const full = path.join(folder, file);
    const text = fs.readFileSync(full, 'utf8');
    expect(text).toContain(from);
    fs.writeFileSync(full, text.replace(from, to));
  }
  return folder;
}
const pump = 'procedures/coolant-pump.yaml';
const typo: [string, string, string] = [pump, '- tighten: pump-bolts', '- tigthen: pump-bolts'];
const sarifSchema: object = JSON.parse(
  fs.readFileSync(createRequire(import.meta.url).resolve('@microsoft/jest-sarif/lib/schemas/sarif-2.1.0-rtm.5.json'), 'utf8'),
);

describe('formats', () => {
  const folder = shop('formats', typo);

  it('SARIF is valid against the published schema of SARIF 2.1.0, and a SARIF reader of the registry reads it', () => {
    const { status, stdout } = run(['check', '--format', 'sarif'], folder);
    expect(status).toBe(1);
    const log = JSON.parse(stdout);
    const { $schema: _schema, $id: _id, id: _old, ...schema } = sarifSchema as Record<string, unknown>;
    const validate = new Ajv({ strict: false, unicodeRegExp: false, validateFormats: false }).compile(schema);
    expect(validate(log), JSON.stringify(validate.errors)).toBe(true);
    expect(validate({ ...log, version: '1.0' })).toBe(false);
    const result = log.runs[0].results.find((one: { level: string }) => one.level === 'error');
    expect(result).toMatchObject({
      ruleId: 'schema/unknown-key',
      locations: [{ physicalLocation: { artifactLocation: { uri: pump }, region: { startColumn: 5 } } }],
    });
    const markdown = sarifToMarkdown({
      title: 'findings',
      severities: ['warning', 'error', 'note'],
      simple: false,
      details: true,
      failOn: [],
      owner: 'shop',
      repo: 'library',
      branch: 'main',
      sourceRoot: '',
    })(log);
    expect(JSON.stringify(markdown)).toMatch(/schema\/unknown-key/);
  });

  it('JUnit counts a failing case for each error and warning', () => {
    const { stdout } = run(['check', '--format', 'junit'], folder);
    expect(stdout).toMatch(/^<\?xml version="1\.0"/);
    expect(stdout).toMatch(/<testsuite name="procedures\/coolant-pump\.yaml" tests="1" failures="1"/);
    expect(stdout.match(/<testcase/g)?.length).toBe(Number(/<testsuites name="baywright" tests="(\d+)"/.exec(stdout)?.[1]));
  });

  it('annotations name file, line and rule', () => {
    const { stdout } = run(['check', '--format', 'github'], folder);
    expect(stdout).toMatch(
      /^::error file=procedures\/coolant-pump\.yaml,line=\d+,endLine=\d+,col=5,endColumn=12,title=schema\/unknown-key::`tigthen`/m,
    );
  });

  it('a fingerprint stays when lines move', () => {
    const prints = (cwd: string) =>
      JSON.parse(run(['check', '--format', 'json'], cwd).stdout).findings.map((one: { fingerprint: string }) => one.fingerprint);
    const before = prints(folder);
    const text = fs.readFileSync(path.join(folder, pump), 'utf8');
    fs.writeFileSync(path.join(folder, pump), text.replace('\nkind:', '\n# one\n# two\nkind:'));
    expect(prints(folder)).toEqual(before);
    expect(new Set(before).size).toBe(before.length);
  });
});

it('what the README shows is what is found', () => {
  const folder = shop(
    'readme',
    ['procedures/clutch.yaml', '  - close: gearbox-drain-plug\n', ''],
    ['vehicles/marn-20.yaml', 'stages: [{ torque: 5 N·m }]', 'stages: [{ torque: 89 lbf·ft }]'],
  );
  const readme = fs.readFileSync(path.join(projectFolder, 'README.md'), 'utf8');
  const shown = [...readme.matchAll(/^error .*\n(?:.+\n)+?(?=\n|```)/gm)].map(([text]) => text);
  expect(shown).toHaveLength(2);
  const { stdout } = run(['check'], folder);
  for (const text of shown) expect(stdout).toContain(text);
});

it('a line of any length is shown as wide as the words beneath it, with the wrong thing under its marks', () => {
  fc.assert(
    fc.property(fc.nat(400), fc.integer({ min: 1, max: 120 }), fc.nat(400), (before, length, behind) => {
      const line = `${'a'.repeat(before)}${'X'.repeat(length)}${'z'.repeat(behind)}`;
      const span = { file: { path: 'x.yaml', text: line }, start: before, end: before + length };
      const finding = { rule: 'a/b', severity: 'error' as const, message: 'Words.', span };
      const [, shown = '', marks = ''] = [...blocksOf([finding], false)].join('').split('\n');
      expect(shown.length).toBeLessThanOrEqual(100);
      expect(marks.length).toBeLessThanOrEqual(shown.length);
      const from = marks.indexOf('^');
      expect(marks.slice(from)).toMatch(/^\^+$/);
      expect(shown.slice(from, marks.length)).toMatch(/^X+…?$/);
      expect(shown.slice(7, from)).toMatch(/^…?a*$/);
      if (line.length <= 93) expect(shown.slice(7)).toBe(line);
    }),
  );
});

describe('control', () => {
  it('severities of shop.yaml: a warning becomes an error, or is silenced; an error stays one', () => {
    const strict = shop(
      'strict',
      [pump, 'says: New gasket, dry.', 'says: New gasket, snug.'],
      ['shop.yaml', 'authority:', 'rules: { step/vague: error }\nauthority:'],
    );
    expect(run(['check'], strict)).toMatchObject({
      status: 1,
      stdout: expect.stringMatching(/error procedures\/coolant-pump\.yaml.*step\/vague/),
    });
    const silent = shop(
      'silent',
      [pump, 'says: New gasket, dry.', 'says: New gasket, snug.'],
      ['shop.yaml', 'authority:', 'rules: { step/vague: "off" }\nauthority:'],
    );
    expect(run(['check', '--max-warnings', '0'], silent).status).toBe(0);
    const lowered = shop('lowered', typo, ['shop.yaml', 'authority:', 'rules: { schema/unknown-key: info }\nauthority:']);
    const { status, stdout } = run(['check'], lowered);
    expect(status).toBe(1);
    expect(stdout).toMatch(/control\/error-lowered/);
    expect(stdout).toMatch(/error procedures\/coolant-pump\.yaml.*schema\/unknown-key/);
  });

  it('an error allowed with a reason lets the job print, and the reason stands on its first page', () => {
    const folder = shop(
      'allowed',
      [
        'procedures/hub-bearing.yaml',
        '  - renew: hub-bearing',
        '  # baywright: allow step/in-words — the press book has the steps\n  - renew: hub-bearing',
      ],
      [
        'procedures/hub-bearing.yaml',
        'says: Press on the outer ring only; the magnetic ring faces inwards.',
        'says: Reassemble in reverse order of removal.',
      ],
    );
    // The allowance speaks of the next line, and the finding stands two lines below: it is unused there, and the error stays.
    expect(run(['check'], folder).stdout).toMatch(/control\/unused/);
    const file = path.join(folder, 'procedures/hub-bearing.yaml');
    const moved = fs
      .readFileSync(file, 'utf8')
      .replace('  # baywright: allow step/in-words — the press book has the steps\n', '')
      .replace('    says: Reassemble', '    # baywright: allow step/in-words — the press book has the steps\n    says: Reassemble');
    fs.writeFileSync(file, moved);
    expect(run(['check'], folder).status).toBe(0);
    expect(run(['build', '2042-hub-bearing', '--out', path.join(work, 'out')], folder).status).toBe(0);
    const job = JSON.parse(fs.readFileSync(path.join(work, 'out/2042-hub-bearing/job.json'), 'utf8'));
    expect(job.allowed).toMatchObject([{ rule: 'step/in-words', reason: 'the press book has the steps' }]);
  });

  it('a baseline passes over old findings and fails on new ones', () => {
    const folder = shop('baseline', typo);
    expect(run(['check', '--baseline', 'old.json'], folder)).toMatchObject({
      status: 2,
      stderr: expect.stringMatching(/--write-baseline/),
    });
    expect(run(['check', '--write-baseline', 'old.json'], folder).status).toBe(0);
    expect(run(['check', '--baseline', 'old.json'], folder).status).toBe(0);
    const file = path.join(folder, pump);
    fs.writeFileSync(file, fs.readFileSync(file, 'utf8').replace('- clean: pump-face', '- claen: pump-face'));
    const { status, stdout } = run(['check', '--baseline', 'old.json'], folder);
    expect(status).toBe(1);
    expect(stdout).toMatch(/claen/);
    expect(stdout).not.toMatch(/tigthen/);
    // One of a large library is far larger than any document.
    const old = JSON.parse(fs.readFileSync(path.join(folder, 'old.json'), 'utf8'));
    for (let n = 0; n < 100_000; n++) old.findings.push({ fingerprint: `${n}`.padStart(64, '0'), rule: 'step/vague', file: 'x.yaml' });
    fs.writeFileSync(path.join(folder, 'old.json'), JSON.stringify(old));
    expect(run(['check', '--baseline', 'old.json'], folder)).toMatchObject({ status: 1, stdout });
    fs.writeFileSync(path.join(folder, 'old.json'), '[]');
    expect(run(['check', '--baseline', 'old.json'], folder).status).toBe(2);
  });
});

describe('check --fix', () => {
  it('mends names, quotes and a missing close-up step; comments and layout survive', () => {
    const folder = shop(
      'fix',
      typo,
      [pump, '  - remove: coolant-pump', '  - remove: coolant-pmup   # keep this comment'],
      ['parts/pellan.yaml', 'number: "', 'number: "'],
      ['procedures/hub-bearing.yaml', '  - fit: brake-disc\n  - tighten: disc-screw\n', ''],
    );
    const { status, stderr, stdout } = run(['check', '--fix'], folder);
    const text = fs.readFileSync(path.join(folder, pump), 'utf8');
    expect(text).toContain('- tighten: pump-bolts');
    expect(text).toContain('  - remove: coolant-pump   # keep this comment');
    expect(fs.readFileSync(path.join(folder, 'procedures/hub-bearing.yaml'), 'utf8')).toMatch(/- fit: brake-disc\n/);
    expect(stderr).toMatch(/\d+ mended/);
    // The step is added at the end of the close-up; that it comes too late there, and is not tightened, is for a person to mend.
    expect([status, stdout.includes('ledger/left-open')]).toEqual([1, false]);
  });

  it('never changes a number, and leaves what it cannot mend', () => {
    const folder = shop(
      'numbers',
      ['vehicles/pellan-14.yaml', 'torque: 59 lbf·ft', 'torque: 59 lb'],
      ['vehicles/pellan-14.yaml', 'revision: "3"', 'revision: 3'],
    );
    const before = fs.readFileSync(path.join(folder, 'vehicles/pellan-14.yaml'), 'utf8');
    expect(run(['check', '--fix'], folder).status).toBe(1);
    const after = fs.readFileSync(path.join(folder, 'vehicles/pellan-14.yaml'), 'utf8');
    expect(after).toBe(before.replace('revision: 3', 'revision: "3"'));
  });

  it('leaves a clean library byte for byte', () => {
    const folder = shop('clean');
    expect(run(['check', '--fix'], folder).status).toBe(0);
    expect(fs.readFileSync(path.join(folder, pump))).toEqual(fs.readFileSync(path.join(projectFolder, 'examples', pump)));
  });
});
