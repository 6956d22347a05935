import type { ReadResult, World } from './world.js';

/** A world that reads each file once, until it is told that something has changed. */
export interface RememberingWorld extends World {
  /** A file has another content. */
  changed(path: string): void;
  /** Files have come or gone. */
  moved(): void;
}

export function rememberingWorld(world: World): RememberingWorld {
  const lists = new Map<string, string[]>();
  const texts = new Map<string, ReadResult>();
  return {
    ...world,
    files(folder, endings) {
      const key = `${folder} ${endings.join(' ')}`;
      let list = lists.get(key);
      if (!list) {
        list = world.files(folder, endings);
        lists.set(key, list);
      }
      return list;
    },
    read(path, within) {
      let result = texts.get(path);
      if (!result) {
        result = world.read(path, within);
        texts.set(path, result);
      }
      return result;
    },
    changed: (path) => void texts.delete(path),
    moved() {
      lists.clear();
    },
  };
}
