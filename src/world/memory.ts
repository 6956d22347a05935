import { endsIn } from './paths.js';
import type { World } from './world.js';

/** A world in memory, for tests and for the examples of the rules. */
export function memoryWorld(initial: Readonly<Record<string, string>>): World {
  const texts = new Map(Object.entries(initial));
  return {
    files: (folder, endings) =>
      [...texts.keys()].filter((name) => name.startsWith(`${folder.replace(/\/$/, '')}/`) && endsIn(name, endings)).sort(),
    read(path) {
      const text = texts.get(path);
      return text === undefined ? { ok: false, why: 'there is no such file or folder' } : { ok: true, text };
    },
    kindOf(path) {
      if (texts.has(path)) return 'file';
      return [...texts.keys()].some((name) => name.startsWith(`${path.replace(/\/$/, '')}/`)) ? 'folder' : 'nothing';
    },
  };
}
