// What goes wrong around the tool: killed, a full disk, a folder that cannot be written or vanishes, two runs at once.
// The last good paper stays whole, the status is right, and nothing half-written is left after the next run.
import { spawn, spawnSync } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeEach, expect, it, vi } from 'vitest';
import { realWorld } from '../src/world/real.js';
import { runElsewhere, runHere } from './helpers/runs.js';
import { projectFolder } from './helpers/shop.js';

const place = fs.mkdtempSync(path.join(os.tmpdir(), 'baywright-faults-'));
afterAll(() => fs.rmSync(place, { recursive: true, force: true }));
const shop = path.join(place, 'shop');
const out = path.join(place, 'paper');
const paper = path.join(out, '3001-pump');
const later = path.join(place, 'later');
const bin = path.join(projectFolder, 'bin/baywright.js');
const args = ['build', '3001-pump', '--out', out];
const unix = process.platform !== 'win32';

beforeEach(() => {
  fs.rmSync(shop, { recursive: true, force: true });
  fs.rmSync(out, { recursive: true, force: true });
  fs.rmSync(later, { recursive: true, force: true });
  fs.cpSync(path.join(projectFolder, 'tests/fixtures/corner-garage'), shop, { recursive: true });
});

const build = (...more: string[]) => spawnSync(process.execPath, [bin, ...args, ...more], { cwd: shop, encoding: 'utf8' });
const complaint = (text: string) => {
  const job = path.join(shop, 'jobs/3001-pump.yaml');
  fs.writeFileSync(job, fs.readFileSync(job, 'utf8').replace(/^complaint: .*$/m, `complaint: ${text}`));
};

/** The complaint that the paper in the folder has, if every file of it is there and whole. */
function wholePaper(folder: string): string {
  const names = fs.readdirSync(folder).sort();
  expect(names).toEqual(
    [
      'bay-sheet.pdf',
      'fluids-sheet.pdf',
      'job.json',
      'parts-list.csv',
      'parts-list.pdf',
      'quote.pdf',
      'tool-list.pdf',
      'torque-card.pdf',
    ].sort(),
  );
  for (const name of names.filter((one) => one.endsWith('.pdf'))) {
    const bytes = fs.readFileSync(path.join(folder, name));
    expect(bytes.subarray(0, 5).toString(), name).toBe('%PDF-');
    expect(bytes.subarray(-6).toString().trim(), name).toBe('%%EOF');
  }
  return JSON.parse(fs.readFileSync(path.join(folder, 'job.json'), 'utf8')).order.complaint;
}

it('killed at any point, the paper is the old or the new one, whole; the next run leaves nothing of it', async () => {
  complaint('Old.');
  const before = performance.now();
  expect(build().status).toBe(0);
  const takes = performance.now() - before;
  let last = 'Old.';
  let stayed = 0;
  for (let point = 0; point < 24; point++) {
    complaint(`New ${point}.`);
    const child = spawn(process.execPath, [bin, ...args], { cwd: shop, stdio: 'ignore' });
    const ended = new Promise<void>((resolve) => child.on('exit', () => resolve()));
    // Most of the points where files are written, which is near the end.
    await new Promise((resolve) => setTimeout(resolve, (takes * (point < 6 ? point / 6 : 0.6 + point / 40)) | 0));
    child.kill('SIGKILL');
    await ended;
    // Between two renames the old paper lies beside its place; the next run puts it back.
    const folder = fs.existsSync(paper)
      ? paper
      : path.join(out, fs.readdirSync(out).find((name) => name.startsWith('.3001-pump.baywright-old-')) ?? 'lost');
    const now = wholePaper(folder);
    expect([last, `New ${point}.`]).toContain(now);
    if (now === last) stayed++;
    last = now;
  }
  expect(stayed).toBeGreaterThan(0);
  expect(build().status).toBe(0);
  expect(wholePaper(paper)).toBe('New 23.');
  expect(fs.readdirSync(out)).toEqual(['3001-pump']);
}, 120_000);

it('what a run left that was killed between two renames is put back by the next, even if that one cannot print', () => {
  const leave = () => {
    fs.renameSync(paper, path.join(out, `.3001-pump.baywright-old-${runHere(999999999)}`));
    fs.mkdirSync(path.join(out, `.3001-pump.baywright-new-${runHere(999999998)}`));
    fs.mkdirSync(path.join(out, `.another-job.baywright-new-${runHere(999999998)}`));
    for (const of of ['3001-pump', 'another-job']) {
      const lock = path.join(out, `.${of}.baywright-lock`);
      fs.writeFileSync(lock, runHere(999999997));
      fs.utimesSync(lock, new Date(Date.now() - 3_600_000), new Date(Date.now() - 3_600_000));
    }
    fs.mkdirSync(path.join(out, '.kept.new-1'), { recursive: true });
  };
  expect(build().status).toBe(0);
  leave();
  expect(build().status).toBe(0);
  expect(fs.readdirSync(out).sort()).toEqual(['.kept.new-1', '3001-pump']);
  leave();
  fs.appendFileSync(path.join(shop, 'shop.yaml'), 'nonsense: true\n');
  expect(build().status).toBe(1);
  expect(fs.readdirSync(out).sort()).toEqual(['.kept.new-1', '3001-pump']);
  wholePaper(paper);
});

it('what a killed run left is put back also when its number has gone to another program', () => {
  expect(build().status).toBe(0);
  const left = path.join(out, `.3001-pump.baywright-old-${runHere(process.ppid)}`);
  const lock = path.join(out, '.3001-pump.baywright-lock');
  fs.renameSync(paper, left);
  realWorld.tidy(out);
  expect(fs.existsSync(paper)).toBe(false);
  fs.cpSync(out, later, { recursive: true });
  const now = Date.now();
  const clock = vi.spyOn(Date, 'now').mockImplementation(() => now + 2 * 3_600_000);
  realWorld.tidy(later);
  clock.mockRestore();
  expect(fs.readdirSync(later)).toEqual(['3001-pump']);
  wholePaper(path.join(later, '3001-pump'));
  fs.writeFileSync(lock, runHere(process.ppid));
  fs.utimesSync(lock, new Date(now - 2 * 3_600_000), new Date(now - 2 * 3_600_000));
  complaint('New.');
  expect(build()).toMatchObject({ status: 0, stderr: '' });
  expect(wholePaper(paper)).toBe('New.');
});

it('what a run on another machine is at is left to it, and taken away or put back when it has not touched it for long', () => {
  const muchLater = path.join(place, 'much-later');
  expect(build().status).toBe(0);
  const [old, fresh, lock] = ['old-', 'new-', 'lock'].map((what) =>
    path.join(out, `.3001-pump.baywright-${what}${what === 'lock' ? '' : runElsewhere}`),
  ) as [string, string, string];
  fs.renameSync(paper, old);
  fs.mkdirSync(fresh);
  fs.writeFileSync(lock, runElsewhere);
  fs.cpSync(out, muchLater, { recursive: true });
  realWorld.tidy(out);
  expect(fs.readdirSync(out).length).toBe(3);
  const now = Date.now();
  const clock = vi.spyOn(Date, 'now').mockImplementation(() => now + 180_000);
  realWorld.tidy(muchLater);
  clock.mockRestore();
  expect(fs.readdirSync(muchLater)).toEqual(['3001-pump']);
  wholePaper(path.join(muchLater, '3001-pump'));
  fs.rmSync(muchLater, { recursive: true });
});

/** Several builds at once into one folder. @param within what starts each of them */
const atOnce = (...within: string[]) => {
  const [command, ...rest] = [...within, process.execPath, bin, ...args] as [string, ...string[]];
  return Promise.all(
    Array.from(
      { length: 5 },
      () =>
        new Promise<{ status: number | null; stderr: string }>((resolve) => {
          const child = spawn(command, rest, { cwd: shop });
          let stderr = '';
          child.stderr.on('data', (chunk) => {
            stderr += chunk;
          });
          child.on('exit', (status) => resolve({ status, stderr }));
        }),
    ),
  );
};

it('several runs at once into one folder all succeed, and the paper is whole', async () => {
  expect(await atOnce()).toEqual(Array(5).fill({ status: 0, stderr: '' }));
  wholePaper(paper);
  expect(fs.readdirSync(out)).toEqual(['3001-pump']);
}, 60_000);

const container = ['unshare', '--pid', '--fork', '--kill-child'] as const;

it.skipIf(spawnSync(container[0], [...container.slice(1), 'true']).status !== 0)(
  'so do runs in containers, where each has the same number',
  async () => {
    for (let round = 0; round < 4; round++) {
      complaint(`Round ${round}.`);
      expect(await atOnce(...container)).toEqual(Array(5).fill({ status: 0, stderr: '' }));
      wholePaper(paper);
      expect(fs.readdirSync(out)).toEqual(['3001-pump']);
    }
  },
  120_000,
);

it.skipIf(!unix)('a disk that fills up while paper is written: status 2 and why, the old paper whole', () => {
  complaint('Old.');
  expect(build().status).toBe(0);
  complaint('New.');
  // No file larger than 16 kB, as on a disk that has no more room.
  const { status, stderr } = spawnSync('bash', ['-c', `trap '' XFSZ; ulimit -f 16; exec "$0" "$@"`, process.execPath, bin, ...args], {
    cwd: shop,
    encoding: 'utf8',
  });
  expect([status, stderr]).toEqual([
    2,
    expect.stringMatching(/could not be written to .*3001-pump: the file would be larger.*What was there before is untouched/),
  ]);
  expect(wholePaper(paper)).toBe('Old.');
  expect(fs.readdirSync(out)).toEqual(['3001-pump']);
});

it.skipIf(!unix)('a starting file for which there is no room is not there at all; one that is there stays', () => {
  const text = () => fs.readFileSync(path.join(shop, 'procedures/flush.yaml'), 'utf8');
  const run = (before: string) =>
    spawnSync('bash', ['-c', `trap '' XFSZ; ${before} exec "$0" "$@"`, process.execPath, bin, 'new', 'procedure', 'flush'], {
      cwd: shop,
      encoding: 'utf8',
    });
  const names = fs.readdirSync(path.join(shop, 'procedures'));
  expect(run('ulimit -f 0;')).toMatchObject({ status: 2, stderr: expect.stringContaining('the file would be larger') });
  expect(fs.readdirSync(path.join(shop, 'procedures'))).toEqual(names);
  expect(run('')).toMatchObject({ status: 0, stderr: '' });
  const first = text();
  expect(first).toContain('id: flush');
  expect(run('')).toMatchObject({ status: 2, stderr: expect.stringContaining('is there already') });
  expect([text(), fs.readdirSync(path.join(shop, 'procedures')).sort()]).toEqual([first, [...names, 'flush.yaml'].sort()]);
});

it.skipIf(process.getuid?.() !== 0)('a file that the administrator mends stays its owner’s', () => {
  const file = path.join(shop, 'procedures/old.yaml');
  fs.writeFileSync(file, 'kind: preparation\nid: old\nname: Old\nsteps:\n  - insepct: leaks\n', { mode: 0o640 });
  fs.chownSync(file, 1234, 5678);
  spawnSync(process.execPath, [bin, 'check', file, '--fix'], { cwd: shop });
  const { uid, gid, mode } = fs.statSync(file);
  expect([uid, gid, mode & 0o777, fs.readFileSync(file, 'utf8')]).toEqual([1234, 5678, 0o640, expect.stringContaining('inspect: leaks')]);
});

it.skipIf(!unix)('a pipe that is read slowly gets all of it, and one that is read no further is no error', () => {
  const steps = Array.from({ length: 2000 }, (_, n) => `  - inspekt: leak-${n}\n`);
  fs.writeFileSync(path.join(shop, 'much.yaml'), `kind: preparation\nid: much\nname: Much\nsteps:\n${steps.join('')}`);
  const into = (reader: string, from: string) => {
    const line = `"$0" "$@" ${from}| ${reader}; echo "status \${PIPESTATUS[0]}"`;
    return spawnSync('bash', ['-c', line, process.execPath, bin, 'check', '--no-cache'], { cwd: shop, encoding: 'utf8' }).stdout;
  };
  const slow = into('(sleep 0.5; cat)', '');
  expect(slow.length).toBeGreaterThan(70_000);
  expect(slow).toMatch(/ errors, 0 warnings\.\nstatus 1\n$/);
  const [first, ...rest] = into('head -n 1', '').split('\n');
  expect([first?.slice(0, 5), ...rest]).toEqual(['error', 'status 0', '']);
  // Where nobody hears what it could not do, the status tells.
  expect(into('cat', '2>&- ')).toMatch(/status 1\n$/);
});

it.skipIf(!fs.existsSync('/dev/full'))('findings that cannot be written to a full disk are no success', () => {
  const { status, stderr } = spawnSync('bash', ['-c', `"$0" "$@" > /dev/full`, process.execPath, bin, 'check'], {
    cwd: shop,
    encoding: 'utf8',
  });
  expect([status, stderr]).toEqual([2, 'baywright: the result could not be written to standard output: the disk is full.\n']);
});

it('an output folder that is a file, or that vanishes: an answer, or the paper', () => {
  fs.writeFileSync(out, 'a file');
  const { status, stderr } = build();
  expect([status, stderr]).toEqual([
    2,
    expect.stringMatching(/could not be written .*(part of the path is a file|where a folder should be)/),
  ]);
  expect(fs.readFileSync(out, 'utf8')).toBe('a file');
  fs.rmSync(out);
  const child = spawnSync(process.execPath, [bin, ...args], { cwd: shop, encoding: 'utf8' });
  expect(child.status).toBe(0);
});

it.skipIf(!unix)('where the paper goes stands a link: nothing is written or taken from behind it, and what is in the way is named', () => {
  const elsewhere = path.join(shop, 'elsewhere');
  fs.mkdirSync(elsewhere);
  fs.writeFileSync(path.join(elsewhere, 'mine'), 'mine');
  fs.mkdirSync(out);
  for (const to of [elsewhere, path.join(place, 'nowhere'), paper]) {
    fs.symlinkSync(to, paper);
    expect(build()).toMatchObject({ status: 2, stderr: expect.stringMatching(/paper\/3001-pump is a link\. Put a folder there/) });
    expect(fs.readdirSync(out)).toEqual(['3001-pump']);
    fs.unlinkSync(paper);
  }
  expect(fs.readdirSync(elsewhere)).toEqual(['mine']);
  expect(build().status).toBe(0);
});

it.skipIf(!unix)('what bears the name of a lock and is no file holds nobody up', () => {
  fs.mkdirSync(out);
  const lock = path.join(out, '.3001-pump.baywright-lock');
  for (const [n, make] of [
    () => spawnSync('mkfifo', [lock]),
    () => fs.mkdirSync(path.join(lock, 'deep'), { recursive: true }),
    () => fs.symlinkSync('/dev/zero', lock),
  ].entries()) {
    complaint(`The lock ${n}.`);
    make();
    expect(build()).toMatchObject({ status: 0, stderr: '' });
    expect(fs.readdirSync(out)).toEqual(['3001-pump']);
  }
});

it('what somebody has put beside the paper stays there, and a sheet as it was ticked; what an earlier build made and this one does not is gone', () => {
  expect(build().status).toBe(0);
  fs.writeFileSync(path.join(paper, 'record.json'), 'the record');
  fs.writeFileSync(path.join(paper, 'bay-sheet-recorded.pdf'), 'as it was ticked');
  fs.mkdirSync(path.join(paper, 'photos'));
  fs.writeFileSync(path.join(paper, 'photos/mount.jpg'), 'a photo');
  if (unix) fs.symlinkSync('photos/mount.jpg', path.join(paper, 'first'));
  for (const old of ['quote.html', 'hand-over-tag-7.pdf']) fs.writeFileSync(path.join(paper, old), 'old');
  complaint('New.');
  expect(build().status).toBe(0);
  expect(fs.readFileSync(path.join(paper, 'record.json'), 'utf8')).toBe('the record');
  expect(fs.readFileSync(path.join(paper, 'photos/mount.jpg'), 'utf8')).toBe('a photo');
  if (unix) expect(fs.readlinkSync(path.join(paper, 'first'))).toBe('photos/mount.jpg');
  expect(fs.readFileSync(path.join(paper, 'bay-sheet-recorded.pdf'), 'utf8')).toBe('as it was ticked');
  for (const own of ['record.json', 'photos', 'bay-sheet-recorded.pdf', ...(unix ? ['first'] : [])])
    fs.rmSync(path.join(paper, own), { recursive: true });
  expect(wholePaper(paper)).toBe('New.');
  expect(fs.readdirSync(out)).toEqual(['3001-pump']);
});

it('a paper that is asked for alone leaves the others of this version of the job, and takes those of another away', () => {
  complaint('Old.');
  expect(build('--paper', 'parts-list').status).toBe(0);
  expect(fs.readdirSync(paper).sort()).toEqual(['job.json', 'parts-list.csv', 'parts-list.pdf']);
  expect(build('--paper', 'quote, torque-card', '--format', 'both').status).toBe(0);
  const some = ['job.html', 'job.json', 'parts-list.csv', 'parts-list.pdf', 'quote.html', 'quote.pdf', 'torque-card.pdf'];
  expect(fs.readdirSync(paper).sort()).toEqual(some);
  complaint('New.');
  fs.writeFileSync(path.join(paper, 'photo.jpg'), 'a photo');
  expect(build('--paper', 'quote').status).toBe(0);
  expect(fs.readdirSync(paper).sort()).toEqual(['job.json', 'photo.jpg', 'quote.pdf']);
  fs.rmSync(path.join(paper, 'job.json'));
  if (unix) spawnSync('mkfifo', [path.join(paper, 'job.json')]);
  else fs.writeFileSync(path.join(paper, 'job.json'), 'null');
  expect(build('--paper', 'tool-list', '--after', '2').status).toBe(0);
  expect(fs.readdirSync(paper).sort()).toEqual(['hand-over-tag-2.pdf', 'job.json', 'photo.jpg', 'tool-list.pdf']);
  expect(build('--paper', 'tool-list', '--paper', 'quote').status).toBe(0);
  expect(build('--paper', '')).toMatchObject({ status: 2, stderr: expect.stringContaining('is empty') });
  expect(build('--paper', 'qoute')).toMatchObject({ status: 2, stderr: expect.stringContaining('Did you mean `quote`?') });
  expect(build('--paper', 'quote', '--workings')).toMatchObject({ status: 2, stderr: expect.stringContaining('on the bay sheet') });
  expect(build().status).toBe(0);
  fs.rmSync(path.join(paper, 'photo.jpg'));
  expect(wholePaper(paper)).toBe('New.');
});

it('paper may go beside the documents, also of a job that is called like their folder; a file in its place stays', () => {
  const job = path.join(shop, 'jobs/3001-pump.yaml');
  fs.writeFileSync(job, fs.readFileSync(job, 'utf8').replace('id: 3001-pump', 'id: procedures'));
  const documents = fs.readdirSync(path.join(shop, 'procedures'));
  const run = (...more: string[]) => spawnSync(process.execPath, [bin, ...more], { cwd: shop, encoding: 'utf8' });
  expect(run('build', 'procedures', '--out', '.')).toMatchObject({ status: 0, stderr: '' });
  expect(fs.readdirSync(path.join(shop, 'procedures'))).toEqual(expect.arrayContaining([...documents, 'bay-sheet.pdf', 'quote.pdf']));
  expect(run('check').status).toBe(0);
  fs.writeFileSync(job, fs.readFileSync(job, 'utf8').replace('id: procedures', 'id: other'));
  fs.writeFileSync(path.join(shop, 'other'), 'a file');
  expect(run('build', 'other', '--out', '.')).toMatchObject({ status: 2, stderr: expect.stringContaining('is a file and not a folder') });
  expect(fs.readFileSync(path.join(shop, 'other'), 'utf8')).toBe('a file');
});

it.skipIf(process.platform !== 'linux')('a place that takes no folder is told at once', () => {
  expect(
    spawnSync(process.execPath, [bin, 'build', '3001-pump', '--out', '/proc/paper'], { cwd: shop, encoding: 'utf8', timeout: 30_000 }),
  ).toMatchObject({
    status: 2,
    stderr: expect.stringContaining('could not be written to /proc/paper/3001-pump'),
  });
});

it.skipIf(!unix || process.getuid?.() === 0)('a read-only output folder: status 2 and why', () => {
  fs.mkdirSync(out);
  fs.chmodSync(out, 0o555);
  expect(build()).toMatchObject({ status: 2, stderr: expect.stringContaining('permission is denied') });
  fs.chmodSync(out, 0o755);
});

it('an id that is a path writes nothing outside --out', () => {
  const job = path.join(shop, 'jobs/3001-pump.yaml');
  fs.writeFileSync(job, fs.readFileSync(job, 'utf8').replace('id: 3001-pump', 'id: ../../outside'));
  const { status } = spawnSync(process.execPath, [bin, 'build', '--draft', '--out', out], { cwd: shop, encoding: 'utf8' });
  expect(status).not.toBe(0);
  expect(fs.existsSync(path.join(place, 'outside'))).toBe(false);
  expect(fs.readdirSync(place).sort()).toEqual(fs.existsSync(out) ? ['paper', 'shop'] : ['shop']);
});

it.skipIf(!unix)(
  'links out of the library, folders named like files, folders that are not gone into, unreadable and huge files: a finding each, and the rest is read',
  () => {
    fs.symlinkSync('/etc/hostname', path.join(shop, 'procedures/linked.yaml'));
    fs.symlinkSync('loop.yaml', path.join(shop, 'procedures/loop.yaml'));
    fs.symlinkSync('gone.txt', path.join(shop, 'procedures/dangling.yaml'));
    fs.symlinkSync(shop, path.join(shop, 'procedures/round'));
    fs.mkdirSync(path.join(shop, 'procedures/folder.yaml'));
    const far = path.join(shop, 'procedures', ...'abcdefghijklmnopqrst');
    fs.mkdirSync(far, { recursive: true });
    fs.writeFileSync(path.join(far, 'deep.yaml'), 'kind: x\n');
    fs.writeFileSync(path.join(shop, 'procedures/wide.yaml'), Buffer.from('\ufeffkind: x', 'utf16le'));
    fs.writeFileSync(path.join(shop, 'procedures/unmarked.yaml'), Buffer.from('kind: x', 'utf16le'));
    fs.writeFileSync(path.join(shop, 'procedures/turned.yaml'), Buffer.from('kind: x', 'utf16le').swap16());
    fs.writeFileSync(path.join(shop, 'procedures/latin.yaml'), Buffer.from('kind: x\nname: gr\xfcn\n', 'latin1'));
    fs.writeFileSync(path.join(shop, 'procedures/huge.yaml'), '');
    fs.truncateSync(path.join(shop, 'procedures/huge.yaml'), 100_000_000);
    spawnSync('mkfifo', [path.join(shop, 'procedures/pipe.yaml')]);
    const { status, stdout, stderr } = spawnSync(process.execPath, [bin, 'check', '--no-cache', '--format', 'json'], {
      cwd: shop,
      encoding: 'utf8',
      timeout: 60_000,
    });
    expect([status, stderr]).toEqual([1, '']);
    const found = (JSON.parse(stdout).findings as { file: string; message: string }[]).map(
      (one) => `${path.basename(one.file)}: ${one.message}`,
    );
    expect(found).toEqual(
      expect.arrayContaining([
        expect.stringMatching(/^linked\.yaml: .*(link|outside)/),
        expect.stringMatching(/^loop\.yaml: .*circle/),
        expect.stringMatching(/^dangling\.yaml: .*leads to is not there/),
        expect.stringMatching(/^wide\.yaml: .*UTF-16/),
        expect.stringMatching(/^unmarked\.yaml: .*UTF-16/),
        expect.stringMatching(/^turned\.yaml: .*UTF-16/),
        expect.stringMatching(/^latin\.yaml: .*not UTF-8 text .*2:9\)/),
        expect.stringMatching(/^huge\.yaml: .*MB large/),
        expect.stringMatching(/^folder\.yaml: .*another name/),
        expect.stringMatching(/^round: .*link to a folder/),
        expect.stringMatching(/^deep\.yaml: .*not a kind of document/),
        expect.stringMatching(/^pipe\.yaml: .*no ordinary file/),
      ]),
    );
    expect(
      found.filter((one) => !/^((linked|loop|wide|unmarked|turned|latin|huge|pipe|dangling|folder|deep)\.yaml|round):/.test(one)),
    ).toEqual([]);
  },
);

it.skipIf(process.platform !== 'linux')('files and folders whose names are not UTF-8 are told, and not passed over', () => {
  const named = (bytes: readonly number[]) => Buffer.concat([Buffer.from(`${shop}/procedures/`), Buffer.from(bytes)]);
  fs.writeFileSync(Buffer.concat([named([0x66, 0xfc]), Buffer.from('.yaml')]), 'kind: preparation\n');
  fs.mkdirSync(named([0x4d, 0xfc, 0xff]));
  fs.writeFileSync(Buffer.concat([named([0x4d, 0xfc, 0xff]), Buffer.from('/in.yaml')]), 'kind: preparation\n');
  for (const cache of [['--no-cache'], [], []]) {
    const { status, stdout } = spawnSync(process.execPath, [bin, 'check', ...cache], { cwd: shop, encoding: 'utf8' });
    expect(status).toBe(1);
    expect(stdout).toContain('procedures/f\ufffd.yaml:1:1 yaml/unreadable');
    expect(stdout).toContain('procedures/M\ufffd\ufffd:1:1 yaml/unreadable');
    expect(stdout.match(/not UTF-8; give it another name/g)).toHaveLength(2);
  }
});

it.skipIf(!unix)('a file name that would steer the terminal is printed without what steers', () => {
  fs.writeFileSync(path.join(shop, 'procedures/\u001b[2J\nx.yaml'), 'kind: [\n');
  for (const format of ['terminal', 'github', 'junit', 'json', 'sarif']) {
    const { status, stdout, stderr } = spawnSync(process.execPath, [bin, 'check', '--no-cache', '--format', format], {
      cwd: shop,
      encoding: 'utf8',
    });
    expect([status, stderr]).toEqual([1, '']);
    expect(stdout, format).toContain('x.yaml');
    expect(stdout, format).not.toContain('\u001b');
    if (format === 'terminal') expect(stdout).toContain('error procedures/�[2J�x.yaml:1:7');
  }
});

it.skipIf(!unix)('a working folder that is gone is said so', () => {
  const gone = path.join(place, 'gone');
  fs.mkdirSync(gone);
  const run = spawnSync('sh', ['-c', `rmdir "${gone}" && exec "${process.execPath}" "${bin}" check`], { cwd: gone, encoding: 'utf8' });
  expect([run.status, run.stdout, run.stderr]).toEqual([
    2,
    '',
    'baywright: the folder that you are in is gone. Change to another and run this again.\n',
  ]);
});
