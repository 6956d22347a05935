import fs from 'node:fs';
import path from 'node:path';
import { limits } from '../syntax/limits.js';
import { forward } from './paths.js';
import { CannotRun, type ReadResult, type Stamp, type World } from './world.js';

/** What the prompt needs of the file system besides. */
interface Machine extends World {
  /** The same as `files` of one folder alone, without those in it. */
  filesIn(folder: string, endings: readonly string[]): string[];
  /** Size and time of change of a file; null where there is none. */
  stamp(path: string): Stamp | null;
  /** A file of our own of any size; null where it cannot be read. */
  readLarge(path: string): string | null;
  /** A file that this user alone can have written; null where it is another's, or cannot be read. */
  readOwn(path: string): Buffer | null;
  /** Takes away what killed runs left in a folder, and puts back the last good paper of one that was killed at the wrong moment. */
  tidy(folder: string): void;
  /**
   * Writes a set of files into a folder so that either all of them are there or the folder is as it was before.
   * @param isOurs which names an earlier set may have: those go, what else lies there stays
   */
  writeFolder(folder: string, files: ReadonlyMap<string, Uint8Array | string>, isOurs: (name: string) => boolean): void;
  /** Puts a new content in the place of a file: all of it, or the file stays as it was. */
  replace(path: string, content: string | Uint8Array): void;
  /** Puts a file into the cache for this user alone, and takes away what has lain there for long; where it fails it does not matter. */
  keep(path: string, content: string | Uint8Array): void;
  /** Writes a new file; refuses to overwrite. */
  writeNew(path: string, text: string): void;
}

/** What a folder holds; nothing where it is none, or cannot be opened. */
function namesIn(folder: string): readonly string[] {
  try {
    return fs.readdirSync(folder);
  } catch {
    return [];
  }
}

/** Why a folder, or a link to one, stands in the list of documents. */
function whyNot(folder: string, isLink: boolean): string {
  if (/\.ya?ml$/.test(folder)) return 'it is a folder; give the folder another name';
  if (isLink) return 'it is a link to a folder with documents in it; put the folder itself here';
  try {
    fs.readdirSync(folder);
    return 'it is a folder that could not be opened a moment ago';
  } catch (error) {
    return `it is a folder that cannot be opened: ${reason(error)}`;
  }
}

/** The world as it is: the file system of this machine. */
export const realWorld: Machine = {
  files(folder, endings) {
    const found = new Set<string>();
    const isOne = (name: string) => endings.some((ending) => name.endsWith(ending));
    const visit = (at: string) => {
      let entries: fs.Dirent[];
      try {
        entries = fs.readdirSync(at, { withFileTypes: true });
      } catch (error) {
        if ((error as NodeJS.ErrnoException).code !== 'ENOENT') found.add(at);
        return;
      }
      const before = at.endsWith('/') ? at : `${at}/`;
      for (const entry of entries) {
        if (entry.name.startsWith('.') || entry.name === 'node_modules') continue;
        const full = before + entry.name;
        if (isOne(entry.name)) found.add(full);
        if (entry.isDirectory()) visit(full);
        else if (entry.isSymbolicLink() && !isOne(entry.name) && namesIn(full).some(isOne)) found.add(full);
      }
    };
    visit(forward(folder));
    return [...found].sort();
  },

  filesIn: (folder, endings) =>
    namesIn(folder)
      .filter((name) => !name.startsWith('.') && endings.some((ending) => name.endsWith(ending)))
      .map((name) => `${forward(folder).replace(/\/$/, '')}/${name}`)
      .sort(),

  read(file, within): ReadResult {
    try {
      const own = fs.lstatSync(file);
      const stat = own.isSymbolicLink() ? fs.statSync(file) : own;
      if (stat.isDirectory()) return { ok: false, why: whyNot(file, own.isSymbolicLink()) };
      if (
        own.isSymbolicLink() &&
        within !== undefined &&
        !forward(fs.realpathSync(file)).startsWith(`${forward(fs.realpathSync(within))}/`)
      )
        return { ok: false, why: 'it is a link to a file outside this library; put the file itself here' };
      if (!stat.isFile()) return { ok: false, why: 'it is no ordinary file' };
      if (stat.size > limits.bytes * 4)
        return { ok: false, why: `it is ${Math.round(stat.size / 1_000_000)} MB large; no document of a library is` };
      const bytes = fs.readFileSync(file);
      if ((bytes[0] === 0xff && bytes[1] === 0xfe) || (bytes[0] === 0xfe && bytes[1] === 0xff))
        return { ok: false, why: 'it is saved as UTF-16; save it as UTF-8' };
      try {
        return { ok: true, text: new TextDecoder('utf-8', { fatal: true }).decode(bytes) };
      } catch {
        return { ok: false, why: 'it is not UTF-8 text; save it as UTF-8' };
      }
    } catch (error) {
      return { ok: false, why: reason(error) };
    }
  },

  stamp(file) {
    try {
      const stat = fs.statSync(file);
      // Not that of the content alone: a file with another owner, or with its old time put back, is another too.
      return { size: stat.size, time: stat.ctimeMs };
    } catch {
      return null;
    }
  },

  readLarge(file) {
    try {
      const stat = fs.statSync(file);
      // A pipe ends; a device may not.
      if (!stat.isFile() && !stat.isFIFO()) return null;
      return fs.readFileSync(file, 'utf8');
    } catch {
      return null;
    }
  },

  readOwn(file) {
    try {
      const stat = fs.statSync(file);
      const user = process.getuid?.();
      if (!stat.isFile() || (user !== undefined && (stat.uid !== user || (stat.mode & 0o022) !== 0))) return null;
      return fs.readFileSync(file);
    } catch {
      return null;
    }
  },

  keep(file, content) {
    try {
      makeFolder(path.dirname(file));
      put(file, content, 0o600);
      forgetOld(path.dirname(file));
    } catch {
      // Nobody waits for it.
    }
  },

  kindOf(name) {
    try {
      const stat = fs.statSync(name);
      return stat.isFile() ? 'file' : stat.isDirectory() ? 'folder' : 'other';
    } catch {
      return 'nothing';
    }
  },

  tidy(folder) {
    try {
      sweep(folder);
    } catch {
      // There is no such folder yet, or nothing can be taken away: writing will say so.
    }
  },

  writeFolder(folder, files, isOurs) {
    const parent = path.dirname(folder);
    const fresh = aside(folder, 'new');
    const old = aside(folder, 'old');
    try {
      makeFolder(parent);
      sweep(parent);
      fs.mkdirSync(fresh);
      for (const [name, content] of files) fs.writeFileSync(path.join(fresh, name), content, { flush: true });
      inTurn(aside(folder, 'lock'), () => {
        const before = fs.existsSync(folder);
        if (before) carryOver(folder, fresh, isOurs);
        if (before) fs.renameSync(folder, old);
        try {
          fs.renameSync(fresh, folder);
        } catch (error) {
          if (before) fs.renameSync(old, folder);
          throw error;
        }
      });
      discard(old);
    } catch (error) {
      discard(fresh);
      if (error instanceof CannotRun) throw error;
      throw new CannotRun(`The output could not be written to ${forward(folder)}: ${reason(error)}. What was there before is untouched.`);
    }
  },

  replace(file, content) {
    try {
      const there = fs.existsSync(file);
      put(there ? fs.realpathSync(file) : file, content, there ? fs.statSync(file).mode : null);
    } catch (error) {
      throw new CannotRun(`${forward(file)} could not be written: ${reason(error)}. It is as it was before.`);
    }
  },

  writeNew(file, text) {
    try {
      makeFolder(path.dirname(file));
      fs.writeFileSync(file, text, { flag: 'wx' });
    } catch (error) {
      const exists = (error as NodeJS.ErrnoException).code === 'EEXIST';
      throw new CannotRun(
        exists
          ? `${forward(file)} is there already and stays as it is. Choose another id, or delete it first.`
          : `${forward(file)} could not be written: ${reason(error)}.`,
      );
    }
  },
};

/**
 * Makes a folder and those that it lies in. (The recursive way of Node's own never ends where a folder is there and takes
 * no other, as below /proc.)
 */
function makeFolder(folder: string): void {
  if (fs.existsSync(folder)) return;
  const parent = path.dirname(folder);
  if (parent !== folder) makeFolder(parent);
  try {
    fs.mkdirSync(folder);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error;
  }
}

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

/** Puts a new content in the place of a file: all of it, or the file stays as it was. */
function put(file: string, content: string | Uint8Array, mode: number | null): void {
  const fresh = aside(file, 'new');
  try {
    sweep(path.dirname(file));
    fs.writeFileSync(fresh, content, { flush: true });
    if (mode !== null) fs.chmodSync(fresh, mode);
    fs.renameSync(fresh, file);
  } catch (error) {
    discard(fresh);
    throw error;
  }
}

/** Beside its place: what is being made, what was there before, and who is at it. */
const aside = (target: string, what: 'new' | 'old' | 'lock'): string =>
  path.join(path.dirname(target), `.${path.basename(target)}.baywright-${what}${what === 'lock' ? '' : `-${process.pid}`}`);

const leftAside = /^\.(.+)\.baywright-(?:(new|old)-(\d+)|lock)$/;

/** No run is at anything for so long, ms: the number of one that was killed has gone to another program. */
const tooOld = 3_600_000;

/** Folders that this run has swept. */
const swept = new Set<string>();

/** Once in a run. */
function sweep(folder: string): void {
  if (swept.has(folder)) return;
  swept.add(folder);
  for (const name of fs.readdirSync(folder)) {
    const [, of, what, owner] = leftAside.exec(name) ?? [];
    if (of === undefined) continue;
    const full = path.join(folder, name);
    if (what === undefined) {
      // A lock that is about to be taken over is young.
      if (ageOf(full) > 60_000 && !isRunning(ownerOf(full))) fs.rmSync(full, { force: true });
      continue;
    }
    if (Number(owner) !== process.pid && isRunning(Number(owner)) && ageOf(full, 'ctimeMs') < tooOld) continue;
    const target = path.join(folder, of);
    if (what === 'old' && !fs.existsSync(target)) fs.renameSync(full, target);
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

/** Takes away what was kept long ago, of libraries that may be gone. */
function forgetOld(folder: string): void {
  for (const name of fs.readdirSync(folder)) {
    const file = path.join(folder, name);
    if (/^[\da-f]{24}\.(json|files|code)$/.test(name) && ageOf(file) > longAgo) discard(file);
  }
}

/** Takes away what is not needed any more, as far as that goes: the next run takes the rest. */
function discard(name: string): void {
  try {
    fs.rmSync(name, { recursive: true, force: true });
  } catch {
    // It lies where nothing can be taken away.
  }
}

/** How long one run waits for another that writes to the same place, ms. */
const patience = 30_000;

/** Does something while no other run does the same: a file that only one can make. That of a run that was killed is taken over. */
function inTurn(lock: string, work: () => void): void {
  const giveUp = Date.now() + patience;
  for (;;) {
    try {
      fs.writeFileSync(lock, String(process.pid), { flag: 'wx' });
      break;
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error;
    }
    if (!isRunning(ownerOf(lock)) || ageOf(lock) > tooOld) fs.rmSync(lock, { force: true });
    else if (Date.now() > giveUp)
      throw new CannotRun(
        `Another run has been writing to ${forward(path.dirname(lock))} for too long. Wait for it, or end it; then build again.`,
      );
    else Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 20);
  }
  try {
    work();
  } finally {
    fs.rmSync(lock, { force: true });
  }
}

/** The run that holds a lock. One that was made this moment may not have its number yet: it counts as held. */
function ownerOf(lock: string): number {
  try {
    const text = fs.readFileSync(lock, 'utf8');
    return text === '' && ageOf(lock) < 1000 ? process.pid : Number(text || Number.NaN);
  } catch {
    return process.pid;
  }
}

function isRunning(pid: number): boolean {
  if (!Number.isInteger(pid) || pid <= 0) return false;
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EPERM';
  }
}

const reasons: Readonly<Record<string, string>> = {
  ENOENT: 'there is no such file or folder',
  EACCES: 'permission is denied',
  EPERM: 'permission is denied',
  EROFS: 'the disk is read-only',
  ENOSPC: 'the disk is full',
  EEXIST: 'there is a file where a folder should be',
  ENOTDIR: 'part of the path is a file and not a folder',
  EISDIR: 'it is a folder',
  ELOOP: 'the links go round in a circle',
  ENAMETOOLONG: 'the name is too long',
  EFBIG: 'the file would be larger than the system allows',
  EDQUOT: 'your share of the disk is used up',
  EIO: 'the disk does not answer',
  EMFILE: 'too many files are open',
  EBUSY: 'another program has it open',
  ENOTEMPTY: 'another program has written into it meanwhile',
};

export const reason = (error: unknown): string => {
  const code = (error as NodeJS.ErrnoException).code ?? '';
  return reasons[code] ?? (code || 'an unknown error');
};
