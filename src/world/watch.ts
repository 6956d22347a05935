import fs from 'node:fs';
import path from 'node:path';
import { forward } from './paths.js';

/** What has happened in a folder: files with another content, or files and folders that came or went. */
export type Happened = { readonly path: string; readonly moved: boolean };

/**
 * Watches a folder and all below it. One watch a folder and none a file: a system allows only so many.
 * @returns ends it
 */
export function watchFolder(root: string, happened: (one: Happened) => void): () => void {
  const watches = new Map<string, fs.FSWatcher>();
  const deep = process.platform === 'darwin' || process.platform === 'win32';
  const passed = (name: string): boolean => name.split(/[\\/]/).some((part) => part.startsWith('.') || part === 'node_modules');
  const watch = (folder: string): void => {
    if (watches.has(folder)) return;
    try {
      const watcher = fs.watch(folder, { recursive: deep }, (event, name) => {
        if (name === null || passed(name)) return;
        const full = path.join(folder, name);
        if (!deep && event === 'rename') enter(full);
        happened({ path: forward(full), moved: event === 'rename' });
      });
      watcher.on('error', () => leave(folder));
      watches.set(folder, watcher);
    } catch {
      // It went away meanwhile; its parent tells.
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
  return () => {
    for (const folder of [...watches.keys()]) leave(folder);
  };
}
