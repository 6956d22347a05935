import crypto from 'node:crypto';
import os from 'node:os';
import path from 'node:path';
import { forward } from '../world/paths.js';

/** What is kept: findings of a library, its files, a job, what was made of one, compiled code. */
export type Ending = '.json' | '.files' | '.job' | '.paper' | '.code';

/** The name of the file that keeps something of a folder or file. */
export const cacheName = (of: string, ending: Ending): string =>
  `${crypto.createHash('sha256').update(of).digest('hex').slice(0, 24)}${ending}`;

/** That file in the user's cache folder; null where the user wants none kept, or no folder is known. */
export function cacheFile(of: string, ending: Ending): string | null {
  const { BAYWRIGHT_CACHE: wanted, XDG_CACHE_HOME: xdg, LOCALAPPDATA: local } = process.env;
  if (wanted === 'off') return null;
  const home = os.homedir();
  if (!wanted && !xdg && !local && !home) return null;
  const usual =
    process.platform === 'win32' && local
      ? path.join(local, 'baywright')
      : process.platform === 'darwin'
        ? path.join(home, 'Library/Caches/baywright')
        : path.join(xdg || path.join(home, '.cache'), 'baywright');
  return forward(path.join(wanted || usual, cacheName(of, ending)));
}
