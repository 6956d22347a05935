// A library spread over several machines: shares joined again are what one machine finds and makes; and a task engine
// of the registry (wireit) that runs them, keeps what has not changed, and can be spread by any CI's matrix.
import { spawnSync } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { projectFolder } from './helpers/shop.js';

const place = fs.mkdtempSync(path.join(os.tmpdir(), 'baywright-shares-'));
afterAll(() => fs.rmSync(place, { recursive: true, force: true }));
const shop = path.join(place, 'shop');
const bin = path.join(projectFolder, 'bin/baywright.js');
const run = (...args: string[]) => {
  const { stdout, stderr, status } = spawnSync(process.execPath, [bin, ...args], { cwd: shop, encoding: 'utf8', maxBuffer: 1e8 });
  return { stdout, stderr, status };
};

beforeAll(() => {
  fs.cpSync(path.join(projectFolder, 'examples'), shop, { recursive: true });
  const clutch = path.join(shop, 'procedures/clutch.yaml');
  fs.writeFileSync(clutch, fs.readFileSync(clutch, 'utf8').replace('  - remove: starter\n', ''));
  const pump = path.join(shop, 'procedures/coolant-pump.yaml');
  fs.appendFileSync(pump, '  - tigthen: pump-bolts\n');
  fs.appendFileSync(path.join(shop, 'procedures/hub-bearing.yaml'), '# baywright: allow ledger/left-open — nothing here any more\n');
});

it.skipIf(process.platform === 'win32')(
  'a share may come through a pipe, as slowly as it likes; one into which nobody writes is told',
  () => {
    const [first, second] = ['1/2', '2/2'].map((share) => `"$0" "$1" check --shard ${share} 2> /dev/null`);
    const inBash = (line: string) =>
      spawnSync('bash', ['-c', line, process.execPath, bin], { cwd: shop, encoding: 'utf8', timeout: 60_000, maxBuffer: 1e8 });
    const merged = inBash(`"$0" "$1" merge <(${first}; sleep 1.5) <(${second} | (sleep 1; cat))`);
    expect([merged.status, merged.stderr, merged.stdout]).toEqual([1, '', run('check', '--no-cache').stdout]);
    const pipe = path.join(place, 'pipe');
    spawnSync('mkfifo', [pipe]);
    const named = inBash(`(sleep 0.3; ${first} > ${pipe}) & "$0" "$1" merge ${pipe} <(${second})`);
    expect([named.status, named.stdout]).toEqual([1, merged.stdout]);
    for (const args of [
      ['merge', pipe],
      ['check', '--baseline', pipe],
      ['check', '--write-baseline', pipe],
    ])
      expect(run(...args), args.join(' ')).toMatchObject({
        status: 2,
        stderr: expect.stringMatching(/pipe (is there already and )?cannot be read: it is a pipe, and nobody writes into it\./),
      });
  },
  60_000,
);

it.each(['terminal', 'json', 'sarif', 'junit', 'github'])('merged, the findings are those of one run, in %s', (format) => {
  const whole = run('check', '--no-cache', '--format', format);
  expect(whole.status).toBe(1);
  const files = [1, 2, 3, 4].map((n) => {
    const share = run('check', '--shard', `${n}/4`);
    expect(share.status, share.stderr).toBe(0);
    fs.writeFileSync(path.join(place, `s${n}.json`), share.stdout);
    return path.join(place, `s${n}.json`);
  });
  const merged = run('merge', ...[...files].reverse(), '--format', format);
  expect(merged.stdout).toBe(whole.stdout);
  expect(merged.status).toBe(whole.status);
});

it('every job is in one share, and merged the list is that of one build', () => {
  const whole = run('build', '--out', path.join(place, 'paper'));
  const shares = [1, 2, 3].map((n) => {
    const share = run('build', '--out', path.join(place, 'paper'), '--shard', `${n}/3`);
    fs.writeFileSync(path.join(place, `b${n}.json`), share.stdout);
    return path.join(place, `b${n}.json`);
  });
  const merged = run('merge', ...shares);
  expect([whole.status, merged.status]).toEqual([1, 1]);
  expect(merged.stdout.split('\n').sort()).toEqual(whole.stdout.split('\n').sort());
  expect(merged.stderr).toMatch(/2047-clutch is not printed/);
});

it('what stops many jobs is told once, and of each job where; so it is where their shares are merged', () => {
  const broken = ['procedures/x.yaml', 'procedures/y.yaml'].map((name) => path.join(shop, name));
  for (const file of broken) fs.writeFileSync(file, 'kind: [\n');
  const order = path.join(shop, 'jobs/2043-gearbox-fluid.yaml');
  const text = fs.readFileSync(order, 'utf8');
  fs.writeFileSync(order, text.replace(/^odometer: .*$/m, 'odometer: 12 N'));
  const whole = run('build');
  const shares = [1, 2, 3].map((n) => {
    const share = run('build', '--shard', `${n}/3`);
    expect([share.status, JSON.parse(share.stdout).errors.length > 0]).toEqual([0, true]);
    fs.writeFileSync(path.join(place, `e${n}.json`), share.stdout);
    return path.join(place, `e${n}.json`);
  });
  const merged = run('merge', ...shares);
  const report = JSON.parse(fs.readFileSync(shares[0] ?? '', 'utf8'));
  const spoilt = [99, -1, 0.5, '0'].map((error) => {
    fs.writeFileSync(path.join(place, 'e.json'), JSON.stringify({ ...report, jobs: [{ ...report.jobs[0], errors: [error] }] }));
    return run('merge', path.join(place, 'e.json')).stderr;
  });
  for (const file of broken) fs.rmSync(file);
  fs.writeFileSync(order, text);

  expect([whole.status, whole.stdout, merged.status, merged.stdout]).toEqual([1, '', 1, '']);
  expect(merged.stderr).toBe(whole.stderr.replaceAll(', or print a draft to look at with --draft.', '.'));
  const lines = merged.stderr.split('\n');
  const both = 'procedures/x.yaml:1:7 and procedures/y.yaml:1:7';
  for (const line of ['error procedures/x.yaml:1:7 yaml/syntax', 'error procedures/y.yaml:1:7 yaml/syntax'])
    expect(lines.filter((one) => one === line)).toHaveLength(1);
  expect(lines).toContain(
    '2041-head-gasket is not printed: errors stop paper. A file that cannot be read may be one that a job needs. Mend them.',
  );
  expect(lines).toContain(`2042-hub-bearing is not printed either: the errors at ${both} stop it too.`);
  expect(lines.filter((one) => one.startsWith('2043'))).toEqual([
    `2043-gearbox-fluid is not printed: errors stop paper, also those told before, at ${both}. Mend them.`,
  ]);
  expect(lines.filter((one) => one.startsWith('error jobs/2043-gearbox-fluid.yaml:'))).toHaveLength(1);
  for (const one of spoilt) expect(one).toContain('is no share');
});

it('says what does not fit: a share missing, twice, of another kind, of another state, or none at all', () => {
  const [one, two] = ['1/2', '2/2'].map((name, n) => {
    const file = path.join(place, `x${n}.json`);
    fs.writeFileSync(file, run('check', '--shard', name).stdout);
    return file;
  }) as [string, string];
  const said = (...names: string[]) => run('merge', ...names);
  expect(said(one)).toMatchObject({ status: 2, stderr: expect.stringContaining('A share is missing: 2/2') });
  expect(said(one, one)).toMatchObject({ status: 2, stderr: expect.stringContaining('Name each once') });
  expect(said(one, path.join(place, 'b1.json'))).toMatchObject({
    status: 2,
    stderr: expect.stringContaining('not shares of the same run'),
  });
  expect(said(path.join(shop, 'shop.yaml'))).toMatchObject({ status: 2, stderr: expect.stringContaining('is no share') });
  expect(said(path.join(place, 'nothing.json'))).toMatchObject({
    status: 2,
    stderr: expect.stringContaining('cannot be read: there is no such file'),
  });
  const report = JSON.parse(fs.readFileSync(one, 'utf8'));
  const spoilt = path.join(place, 'spoilt.json');
  for (const findings of [[null], [{}], [{ rule: 'a/b', severity: 'error', message: 'x', span: ['shop.yaml', -1, 2] }], 'none']) {
    fs.writeFileSync(spoilt, JSON.stringify({ ...report, share: { index: 1, of: 1 }, findings }));
    expect(said(spoilt)).toMatchObject({ status: 2, stderr: expect.stringContaining('is no share') });
  }
  for (const share of [
    { index: 1, of: 0 },
    { index: 1, of: -1 },
    { index: 2, of: 1 },
    { index: 1, of: 1_000_000_000 },
  ]) {
    fs.writeFileSync(spoilt, JSON.stringify({ ...report, share }));
    expect(said(spoilt)).toMatchObject({ status: 2, stderr: expect.stringContaining('is no share') });
  }
  // What no memory holds is not read; the files have holes, and take no room.
  fs.truncateSync(spoilt, 40_000_000_000);
  expect(said(spoilt)).toMatchObject({ status: 2, stderr: expect.stringContaining('cannot be read: it is too large') });
  fs.writeFileSync(spoilt, '['.repeat(20_000_000));
  expect(said(spoilt)).toMatchObject({ status: 2, stderr: expect.stringContaining('is no share') });
  if (process.platform === 'linux')
    expect(said('/dev/zero')).toMatchObject({ status: 2, stderr: expect.stringContaining('cannot be read: it is no ordinary file') });
  const jobs = path.join(shop, 'jobs/2042-hub-bearing.yaml');
  fs.appendFileSync(jobs, '# later\n');
  expect(said(one, two)).toMatchObject({ status: 2, stderr: expect.stringContaining('another state of this library') });
  for (const wrong of ['0/2', '3/2', '1', 'a/b', '1/0', '-1/2', '1/2/3']) {
    expect(run('check', '--shard', wrong)).toMatchObject({
      status: 2,
      stderr: expect.stringContaining('--shard takes a share such as 2/5'),
    });
  }
});

describe('with a task engine', () => {
  const wired = path.join(place, 'wired');
  const start = () =>
    spawnSync('npm', ['run', 'check'], {
      cwd: wired,
      encoding: 'utf8',
      shell: process.platform === 'win32',
      env: {
        ...process.env,
        PATH: `${path.join(projectFolder, 'node_modules/.bin')}${path.delimiter}${process.env.PATH}`,
        WIREIT_LOGGER: 'simple',
        WIREIT_CACHE: 'local',
        CI: '',
      },
    });

  it('shares run side by side, are kept while nothing changes, and only then', () => {
    fs.cpSync(path.join(projectFolder, 'tests/fixtures/corner-garage'), wired, { recursive: true });
    const node = JSON.stringify(process.execPath).slice(1, -1);
    const share = (n: number) => ({
      command: `"${node}" "${bin}" check --shard ${n}/2 > share-${n}.json`,
      files: ['shop.yaml', 'vehicles/**', 'procedures/**', 'parts/**', 'jobs/**'],
      output: [`share-${n}.json`],
    });
    fs.writeFileSync(
      path.join(wired, 'package.json'),
      JSON.stringify({
        private: true,
        scripts: { check: 'wireit', 'check:1': 'wireit', 'check:2': 'wireit' },
        wireit: {
          check: {
            command: `"${node}" "${bin}" merge share-1.json share-2.json > report.txt`,
            dependencies: ['check:1', 'check:2'],
            files: [],
            output: ['report.txt'],
          },
          'check:1': share(1),
          'check:2': share(2),
        },
      }),
    );
    const first = start();
    expect(first.status, first.stdout + first.stderr).toBe(0);
    expect(fs.readFileSync(path.join(wired, 'report.txt'), 'utf8')).toBe('5 files checked: clean.\n');
    const second = start();
    expect(second.status).toBe(0);
    expect(second.stdout).toMatch(/fresh|cached|up to date/i);
    expect(second.stdout).not.toMatch(/Found in share/);
    const pump = path.join(wired, 'procedures/thermostat-pump.yaml');
    fs.writeFileSync(pump, fs.readFileSync(pump, 'utf8').replace('  - fit: splash-shield\n', ''));
    const third = start();
    expect(third.status).not.toBe(0);
  }, 120_000);
});
