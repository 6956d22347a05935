import fs from 'node:fs';
import path from 'node:path';
import { forward } from './paths.js';
import { pause } from './pause.js';
import { reason } from './reason.js';
import { reread } from './reread.js';
import { mayBeAtIt, thisRun } from './run.js';
import { CannotRun } from './world.js';

// Files and folders are put in place whole or not at all: made aside under a hidden name, then renamed. What a killed run
// left aside is taken away, or put back, by the next.

/** Puts a set of files into a folder: all of them, or the folder stays as it was. */
export function putFolder(folder: string, files: ReadonlyMap<string, Uint8Array | string>, isOurs: (name: string) => boolean): void {
  const parent = path.dirname(folder);
  const fresh = aside(folder, 'new');
  const old = aside(folder, 'old');
  try {
    if (isLink(folder)) throw new CannotRun(`${forward(folder)} is a link. Put a folder there, or take the link away; then build again.`);
    makeFolder(parent);
    sweep(parent);
    fs.mkdirSync(fresh);
    for (const [name, content] of files) fs.writeFileSync(path.join(fresh, name), content, { flush: true });
    inTurn(aside(folder, 'lock'), () => {
      const before = fs.existsSync(folder);
      if (before) carryOver(folder, fresh, isOurs);
      if (before) rename(folder, old);
      try {
        rename(fresh, folder);
      } catch (error) {
        if (before) rename(old, folder);
        throw error;
      }
    });
    discard(old);
  } catch (error) {
    discard(fresh);
    if (error instanceof CannotRun) throw error;
    throw new CannotRun(`The output could not be written to ${forward(folder)}: ${reason(error)}. What was there before is untouched.`);
  }
}

/** A file as it was put somewhere. */
export interface AsPut {
  /** In bytes. */
  readonly size: number;
  readonly isContent: (content: Uint8Array) => boolean;
}

/**
 * Whether a folder still holds files as they were put there, and of ours no others. They get the time of now, as if they were put
 * there again: by it somebody finds what was made last, and a makefile what need not be made.
 */
export function stillHolds(folder: string, files: ReadonlyMap<string, AsPut>, isOurs: (name: string) => boolean): boolean {
  const isWhole = ([name, { size, isContent }]: readonly [string, AsPut]): boolean => {
    const file = path.join(folder, name);
    const stat = fs.lstatSync(file);
    return stat.isFile() && stat.size === size && isContent(reread(file));
  };
  try {
    if (isLink(folder)) return false;
    if (fs.readdirSync(folder).some((name) => isOurs(name) && !files.has(name))) return false;
    if (![...files].every(isWhole)) return false;
    const now = new Date();
    for (const name of files.keys()) fs.utimesSync(path.join(folder, name), now, now);
    return true;
  } catch {
    return false;
  }
}

/**
 * Makes a folder and those that it lies in. (The recursive way of Node's own never ends where a folder is there and takes
 * no other, as below /proc.)
 */
export function makeFolder(folder: string): void {
  if (fs.existsSync(folder)) return;
  const parent = path.dirname(folder);
  if (parent !== folder) makeFolder(parent);
  try {
    fs.mkdirSync(folder);
  } catch (error) {
    if (codeOf(error) !== 'EEXIST') throw error;
  }
}

const isLink = (name: string): boolean => fs.lstatSync(name, { throwIfNoEntry: false })?.isSymbolicLink() ?? false;

/** What somebody else has put into a folder comes along into the one that takes its place. */
function carryOver(from: string, to: string, isOurs: (name: string) => boolean): void {
  for (const name of fs.readdirSync(from)) {
    const target = path.join(to, name);
    if (!isOurs(name) && !fs.existsSync(target)) bring(path.join(from, name), target);
  }
}

/** Lets a file, link or folder stand at another place too; a file as a second name of the same, where that is possible. */
function bring(from: string, to: string): void {
  const stat = fs.lstatSync(from);
  if (stat.isSymbolicLink()) fs.symlinkSync(fs.readlinkSync(from), to);
  else if (stat.isDirectory()) {
    fs.mkdirSync(to);
    for (const name of fs.readdirSync(from)) bring(path.join(from, name), path.join(to, name));
    fs.utimesSync(to, stat.atime, stat.mtime);
    fs.chmodSync(to, stat.mode);
  } else
    try {
      fs.linkSync(from, to);
    } catch {
      fs.cpSync(from, to, { preserveTimestamps: true });
    }
}

/** What a file that takes another's place has of it. */
export type Like = Partial<Pick<fs.Stats, 'mode' | 'uid' | 'gid'>>;

/** Puts a new content in the place of a file: all of it, or the file stays as it was. */
export function put(file: string, content: string | Uint8Array, like: Like = {}): void {
  made(file, content, (fresh) => {
    if (like.mode !== undefined) fs.chmodSync(fresh, like.mode);
    keepOwner(fresh, like);
    rename(fresh, file);
  });
}

/** The same, for this user alone, of what can be made anew: it need not be on the disk before it is in its place. */
export function putForNow(file: string, content: string | Uint8Array): void {
  made(file, content, (fresh) => rename(fresh, file), { mode: 0o600 });
}

/** Puts a file where there is none: all of it, or nothing; fails with EEXIST where there is one. */
export function putNew(file: string, content: string): void {
  made(file, content, (fresh) => {
    try {
      fs.linkSync(fresh, file);
    } catch (error) {
      if (codeOf(error) === 'EEXIST') throw error;
      // A disk that knows no second names.
      fs.copyFileSync(fresh, file, fs.constants.COPYFILE_EXCL);
    }
  });
}

/** Makes a file aside; when all of it is on the disk, `place` puts it in its place. Nothing stays aside. */
function made(
  file: string,
  content: string | Uint8Array,
  place: (fresh: string) => void,
  how: { readonly flush?: boolean; readonly mode?: number } = { flush: true },
): void {
  const fresh = aside(file, 'new');
  try {
    sweep(path.dirname(file));
    fs.writeFileSync(fresh, content, how);
    place(fresh);
  } finally {
    discard(fresh);
  }
}

/** A file that somebody else mends stays its owner's, as far as the system allows it. */
function keepOwner(file: string, { uid, gid }: Like): void {
  if (uid === undefined || gid === undefined || (uid === process.getuid?.() && gid === process.getgid?.())) return;
  try {
    fs.chownSync(file, uid, gid);
  } catch {
    // Only the administrator may give a file away.
  }
}

const codeOf = (error: unknown): string | undefined => (error as NodeJS.ErrnoException).code;

/** How long Windows is asked again, ms: there a scanner that looks into a file keeps others from moving it, for a moment. */
const scanned = 2000;

function rename(from: string, to: string): void {
  for (const giveUp = Date.now() + scanned; ; pause(50))
    try {
      fs.renameSync(from, to);
      return;
    } catch (error) {
      const held = process.platform === 'win32' && /^(EPERM|EACCES|EBUSY)$/.test(codeOf(error) ?? '');
      if (!held || Date.now() > giveUp) throw error;
    }
}

/** Beside its place: what is being made, what was there before, and who is at it. */
const aside = (target: string, what: 'new' | 'old' | 'lock'): string =>
  path.join(path.dirname(target), `.${path.basename(target)}.baywright-${what}${what === 'lock' ? '' : `-${thisRun()}`}`);

const leftAside = /^\.(.+)\.baywright-(?:(new|old)-([\da-f]+-\d+)|lock)$/;

/** Folders that this run has swept. */
const swept = new Set<string>();

/** Once in a run. */
export function sweep(folder: string): void {
  if (swept.has(folder)) return;
  swept.add(folder);
  for (const name of fs.readdirSync(folder)) {
    const [, of, what, owner] = leftAside.exec(name) ?? [];
    if (of === undefined) continue;
    const full = path.join(folder, name);
    if (what === undefined) {
      // A lock that is about to be taken over is young.
      if (ageOf(full) > 60_000 && !isHeld(full)) fs.rmSync(full, { recursive: true, force: true });
      continue;
    }
    // What bears the number of this run is of another that had it before.
    if (owner !== undefined && owner !== thisRun() && mayBeAtIt(owner, ageOf(full, 'ctimeMs'))) continue;
    const target = path.join(folder, of);
    if (what === 'old' && !fs.existsSync(target)) rename(full, target);
    else fs.rmSync(full, { recursive: true, force: true });
  }
}

/**
 * How long ago a file was changed, ms; 0 where it is gone.
 * @param by its content, or with `ctimeMs` also its name
 */
function ageOf(file: string, by: 'mtimeMs' | 'ctimeMs' = 'mtimeMs'): number {
  try {
    return Date.now() - fs.statSync(file)[by];
  } catch {
    return 0;
  }
}

/** What was kept so long ago is made anew if it is wanted again, ms. */
const longAgo = 60 * 24 * 3_600_000;

/** The file whose time says when somebody last looked for that; and how often that is done, ms: there may be very many files. */
const lookedName = 'looked-through';
const seldom = 24 * 3_600_000;

/** Takes away what was kept long ago, of libraries that may be gone; once in a day. */
export function forgetOld(folder: string): void {
  const looked = path.join(folder, lookedName);
  const last = fs.lstatSync(looked, { throwIfNoEntry: false });
  if (last && Math.abs(Date.now() - last.mtimeMs) < seldom) return;
  putForNow(looked, '');
  for (const name of fs.readdirSync(folder)) {
    const file = path.join(folder, name);
    if (/^[\da-f]{24}\.(json|files|job|paper|code)$/.test(name) && ageOf(file) > longAgo) discard(file);
  }
}

/** Takes away what is not needed any more, as far as that goes: the next run takes the rest. */
function discard(name: string): void {
  try {
    takeAway(name);
  } catch {
    try {
      fs.rmSync(name, { recursive: true, force: true });
    } catch {
      // It lies where nothing can be taken away.
    }
  }
}

/** As Node's own way does, which knows more of Windows, and is a module more to load. */
function takeAway(name: string): void {
  const stat = fs.lstatSync(name, { throwIfNoEntry: false });
  if (!stat) return;
  if (!stat.isDirectory()) {
    fs.unlinkSync(name);
    return;
  }
  for (const one of fs.readdirSync(name)) takeAway(path.join(name, one));
  fs.rmdirSync(name);
}

/** How long one run waits for another that writes to the same place, ms. */
const patience = 30_000;

/** Does something while no other run does the same: a file that only one can make. That of a run that was killed is taken over. */
function inTurn(lock: string, work: () => void): void {
  const giveUp = Date.now() + patience;
  for (;;) {
    try {
      fs.writeFileSync(lock, thisRun(), { flag: 'wx' });
      break;
    } catch (error) {
      if (codeOf(error) !== 'EEXIST') throw error;
    }
    if (!isHeld(lock)) fs.rmSync(lock, { recursive: true, force: true });
    else if (Date.now() > giveUp)
      throw new CannotRun(
        `Another run has been writing to ${forward(path.dirname(lock))} for too long. Wait for it, or end it; then build again.`,
      );
    else pause(20);
  }
  try {
    work();
  } finally {
    // What is done is done: a lock that stays is that of a run that is over.
    discard(lock);
  }
}

/** Whether the run that made a lock may still be at it. One that was made this moment may not bear its name yet; what is no file is none. */
function isHeld(lock: string): boolean {
  try {
    if (!fs.lstatSync(lock).isFile()) return false;
    const owner = fs.readFileSync(lock, 'utf8');
    return owner === '' ? ageOf(lock) < 1000 : mayBeAtIt(owner, ageOf(lock));
  } catch {
    // It is gone, or cannot be seen.
    return true;
  }
}
