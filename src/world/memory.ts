import { CannotRun, type World } from './world.js';

/** A world in memory, for tests and for the examples of the rules. */
export function memoryWorld(initial: Readonly<Record<string, string>>): World & { readonly written: Map<string, Uint8Array | string> } {
  const texts = new Map(Object.entries(initial));
  const written = new Map<string, Uint8Array | string>();
  return {
    written,
    files: (folder, endings) =>
      [...texts.keys()]
        .filter((name) => name.startsWith(`${folder.replace(/\/$/, '')}/`) && endings.some((ending) => name.endsWith(ending)))
        .sort(),
    read(path) {
      const text = texts.get(path);
      return text === undefined ? { ok: false, why: 'there is no such file or folder' } : { ok: true, text };
    },
    kindOf(path) {
      if (texts.has(path)) return 'file';
      return [...texts.keys()].some((name) => name.startsWith(`${path.replace(/\/$/, '')}/`)) ? 'folder' : 'nothing';
    },
    writeFolder(folder, files) {
      for (const [name, content] of files) written.set(`${folder}/${name}`, content);
    },
    replace(path, text) {
      texts.set(path, text);
    },
    writeNew(path, text) {
      if (texts.has(path)) throw new CannotRun(`${path} is there already and stays as it is.`);
      texts.set(path, text);
    },
  };
}
