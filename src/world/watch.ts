import fs from 'node:fs';
import path from 'node:path';
import { forward } from './paths.js';

/** What has happened in a folder: files with another content, or files and folders that came or went. */
export type Happened = { readonly path: string; readonly moved: boolean };

/** Who is told what a watch sees. */
export interface Watcher {
  happened(one: Happened): void;
  /** The folder itself went away, or another stands in its place: nothing more will be told. */
  gone(): void;
  /** The system allows no more watches: what happens in some folders below will not be told. Said once. */
  tooMany(): void;
}

/** What a system answers that allows no more watches: Linux for its two limits. */
const limits: ReadonlySet<unknown> = new Set(['ENOSPC', 'EMFILE']);

/**
 * Watches a folder and all below it. One watch a folder and none a file: a system allows only so many.
 * @returns ends it
 */
export function watchFolder(root: string, watcher: Watcher): () => void {
  const watches = new Map<string, fs.FSWatcher>();
  const deep = process.platform === 'darwin' || process.platform === 'win32';
  const passed = (name: string): boolean => name.split(/[\\/]/).some((part) => part.startsWith('.') || part === 'node_modules');
  const first = numberOf(root);
  let limited = false;
  const end = (): void => {
    for (const folder of [...watches.keys()]) leave(folder);
  };
  const watch = (folder: string): void => {
    if (watches.has(folder)) return;
    try {
      const found = fs.watch(folder, { recursive: deep }, (event, name) => {
        if (folder === root && numberOf(root) !== first) {
          end();
          watcher.gone();
          return;
        }
        if (name === null || passed(name)) return;
        const full = path.join(folder, name);
        if (!deep && event === 'rename') enter(full);
        watcher.happened({ path: forward(full), moved: event === 'rename' });
      });
      found.on('error', () => leave(folder));
      watches.set(folder, found);
    } catch (error) {
      // Else it went away meanwhile; its parent tells.
      if (limited || !limits.has((error as NodeJS.ErrnoException).code)) return;
      limited = true;
      watcher.tooMany();
    }
  };
  const leave = (folder: string): void => {
    watches.get(folder)?.close();
    watches.delete(folder);
  };
  /** A folder that came, with those in it; one that went is left. */
  const enter = (folder: string): void => {
    let entries: fs.Dirent[];
    try {
      entries = fs.readdirSync(folder, { withFileTypes: true });
    } catch {
      leave(folder);
      return;
    }
    watch(folder);
    for (const entry of entries) if (entry.isDirectory() && !passed(entry.name)) enter(path.join(folder, entry.name));
  };
  if (deep) watch(root);
  else enter(root);
  return end;
}

/** The file system's number of a folder; undefined where there is none that can be reached. */
function numberOf(folder: string): number | undefined {
  try {
    return fs.statSync(folder).ino;
  } catch {
    return undefined;
  }
}
