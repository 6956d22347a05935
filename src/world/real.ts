import fs from 'node:fs';
import path from 'node:path';
import { limits } from '../syntax/limits.js';
import { endsIn, forward } from './paths.js';
import { mostInText, readPipe } from './pipe.js';
import { isDenied, isNoAnswer, reason, tooLarge } from './reason.js';
import { reread } from './reread.js';
import { type AsPut, forgetOld, makeFolder, put, putFolder, putForNow, putNew, stillHolds, sweep } from './whole.js';
import { CannotRun, type ReadResult, type Stamp, type World } from './world.js';

/** What the prompt needs of the file system besides. */
interface Machine extends World {
  /** The same as `files` of one folder alone, without those in it. */
  filesIn(folder: string, endings: readonly string[]): string[];
  /** Size and time of change of a file; null where there is none. */
  stamp(path: string): Stamp | null;
  /** A file of our own of any size, or a pipe that somebody writes one into. */
  readLarge(path: string): ReadResult;
  /** A file that this user alone can have written, until the next is read; null where it is another's, or cannot be read. */
  readOwn(path: string): Buffer | null;
  /** Whether this user may not even see what is there. */
  isHidden(path: string): boolean;
  /** Takes away what killed runs left in a folder, and puts back the last good paper of one that was killed at the wrong moment. */
  tidy(folder: string): void;
  /**
   * Writes a set of files into a folder so that either all of them are there or the folder is as it was before.
   * @param isOurs which names an earlier set may have: those go, what else lies there stays
   */
  writeFolder(folder: string, files: ReadonlyMap<string, Uint8Array | string>, isOurs: (name: string) => boolean): void;
  /** Whether a folder holds files just as such a set was written, and no others that are ours; they then get the time of now. */
  stillHolds(folder: string, files: ReadonlyMap<string, AsPut>, isOurs: (name: string) => boolean): boolean;
  /** Puts a new content in the place of a file: all of it, or the file stays as it was. */
  replace(path: string, content: string | Uint8Array): void;
  /** Puts a file into the cache for this user alone, and takes away what has lain there for long; where it fails it does not matter. */
  keep(path: string, content: string | Uint8Array): void;
  /** Writes a new file, all of it or nothing; refuses to overwrite. */
  writeNew(path: string, text: string): void;
}

const utf8 = new TextDecoder('utf-8', { fatal: true });

/** What stands for bytes that are no UTF-8; the system does not find a file under a name with it. */
const lost = '\ufffd';

/** Where the first character is that is no UTF-8, in words. */
function lostIn(bytes: Uint8Array): string {
  const text = new TextDecoder().decode(bytes);
  const lines = text.slice(0, text.indexOf(lost)).split('\n');
  return `see the character at ${lines.length}:${(lines.at(-1)?.length ?? 0) + 1}`;
}

/** What a folder holds; nothing where it is none, or cannot be opened. */
function namesIn(folder: string): readonly string[] {
  try {
    return fs.readdirSync(folder);
  } catch {
    return [];
  }
}

const isGone = (error: unknown): boolean => (error as NodeJS.ErrnoException).code === 'ENOENT';

/** Why a folder, or a link to one, stands in the list of documents. */
function whyNot(folder: string, isLink: boolean): string {
  if (/\.ya?ml$/i.test(folder)) return 'it is a folder; give the folder another name';
  if (isLink) return 'it is a link to a folder with documents in it; put the folder itself here';
  try {
    fs.readdirSync(folder);
    return 'it is a folder that could not be opened a moment ago';
  } catch (error) {
    return `it is a folder that cannot be opened: ${reason(error)}`;
  }
}

/**
 * A file that nobody writes to while it is read: else it might be the beginning of one text and the end of another.
 * @param size what it had a moment before
 * @returns null where it never stays as it is
 */
function wholeOf(file: string, size: number): Buffer | null {
  let bytes = reread(file);
  for (let left = 5; bytes.length !== size; left--) {
    if (left === 0) return null;
    // Where the system does not know the size, two readings that agree are whole.
    const before = Buffer.from(bytes);
    ({ size } = fs.statSync(file));
    bytes = reread(file);
    if (bytes.equals(before)) return bytes;
  }
  return bytes;
}

/** The world as it is: the file system of this machine. */
export const realWorld: Machine = {
  files(folder, endings) {
    const found = new Set<string>();
    const isOne = (name: string) => endsIn(name, endings);
    const visit = (at: string) => {
      let entries: fs.Dirent[];
      try {
        entries = fs.readdirSync(at, { withFileTypes: true });
      } catch (error) {
        // One that was there a moment ago and is gone is no loss.
        if (!isGone(error) || at.includes(lost)) found.add(at);
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
      .filter((name) => !name.startsWith('.') && endsIn(name, endings))
      .map((name) => `${forward(folder).replace(/\/$/, '')}/${name}`)
      .sort(),

  read(file, within): ReadResult {
    try {
      const own = fs.lstatSync(file);
      const stat = own.isSymbolicLink() ? fs.statSync(file, { throwIfNoEntry: false }) : own;
      if (!stat) return { ok: false, why: 'it is a link, and what it leads to is not there' };
      if (stat.isDirectory()) return { ok: false, why: whyNot(file, own.isSymbolicLink()) };
      if (own.isSymbolicLink() && !forward(fs.realpathSync(file)).startsWith(forward(fs.realpathSync(within)).replace(/\/?$/, '/')))
        return { ok: false, why: 'it is a link to a file outside this library; put the file itself here' };
      if (!stat.isFile()) return { ok: false, why: 'it is no ordinary file' };
      if (stat.size > limits.bytes * 4)
        return { ok: false, why: `it is ${Math.round(stat.size / 1_000_000)} MB large; no document of a library is` };
      const bytes = wholeOf(file, stat.size);
      if (!bytes) return { ok: false, why: 'it is being written all the time; wait until it is saved' };
      if ((bytes[0] === 0xff && bytes[1] === 0xfe) || (bytes[0] === 0xfe && bytes[1] === 0xff) || (bytes[0] === 0) !== (bytes[1] === 0))
        return { ok: false, why: 'it is saved as UTF-16; save it as UTF-8' };
      try {
        return { ok: true, text: utf8.decode(bytes) };
      } catch {
        return { ok: false, why: `it is not UTF-8 text (${lostIn(bytes)}); save it as UTF-8` };
      }
    } catch (error) {
      const isUnknown = isGone(error) && file.includes(lost);
      return { ok: false, why: isUnknown ? 'its name has characters that are not UTF-8; give it another name' : reason(error) };
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
      if (stat.isFIFO()) return readPipe(file);
      if (!stat.isFile()) return { ok: false, why: stat.isDirectory() ? 'it is a folder' : 'it is no ordinary file' };
      if (stat.size > mostInText) return { ok: false, why: tooLarge };
      return { ok: true, text: fs.readFileSync(file, 'utf8') };
    } catch (error) {
      return { ok: false, why: reason(error) };
    }
  },

  readOwn(file) {
    try {
      const stat = fs.statSync(file);
      const user = process.getuid?.();
      if (!stat.isFile() || (user !== undefined && (stat.uid !== user || (stat.mode & 0o022) !== 0))) return null;
      return reread(file);
    } catch {
      return null;
    }
  },

  keep(file, content) {
    try {
      makeFolder(path.dirname(file));
      putForNow(file, content);
      forgetOld(path.dirname(file));
    } catch {
      // Nobody waits for it.
    }
  },

  kindOf(name) {
    try {
      const stat = fs.statSync(name);
      return stat.isFile() ? 'file' : stat.isDirectory() ? 'folder' : 'other';
    } catch (error) {
      if (isNoAnswer(error)) throw new CannotRun(`${name} cannot be looked at: ${reason(error)}. Run this again.`);
      return 'nothing';
    }
  },

  isHidden(name) {
    try {
      fs.lstatSync(name);
      return false;
    } catch (error) {
      return isDenied(error);
    }
  },

  tidy(folder) {
    try {
      sweep(folder);
    } catch {
      // There is no such folder yet, or nothing can be taken away: writing will say so.
    }
  },

  writeFolder: putFolder,
  stillHolds,

  replace(file, content) {
    try {
      const there = fs.existsSync(file);
      put(there ? fs.realpathSync(file) : file, content, there ? fs.statSync(file) : {});
    } catch (error) {
      throw new CannotRun(`${forward(file)} could not be written: ${reason(error)}. It is as it was before.`);
    }
  },

  writeNew(file, text) {
    try {
      makeFolder(path.dirname(file));
      putNew(file, text);
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
