import { LiveLibrary } from '../live-library.js';
import type { Finding } from '../findings/finding.js';
import { realWorld } from '../world/real.js';
import { watchFolder } from '../world/watch.js';
import { knownFiles } from './known-files.js';
import { shippedFolder } from './package-folder.js';
import { outOf } from './root.js';

/** A pause in which changes that belong together arrive: an editor writes, renames and deletes, ms. */
const pause = 10;

/**
 * Looks at a library now and after every change, until the user ends it.
 * @param show is given what was found each time
 */
export function watchLibrary(
  root: string,
  show: (found: { readonly files: readonly string[]; readonly findings: readonly Finding[] }) => void,
): Promise<void> {
  const out = outOf(root);
  return new Promise((done) => {
    let timer: NodeJS.Timeout | undefined;
    const end = watchFolder(root, (one) => {
      if (one.path.startsWith(`${out}/`)) return;
      live.happened(one);
      clearTimeout(timer);
      timer = setTimeout(look, pause);
    });
    // Watched first, so that no change falls between.
    const live = new LiveLibrary(realWorld, root, shippedFolder, out, knownFiles(root));
    const look = () => {
      const { library, findings } = live.look();
      show({ files: library.files.filter((file) => !file.shipped).map((file) => file.file.path), findings });
    };
    look();
    process.once('SIGINT', () => {
      clearTimeout(timer);
      end();
      done();
    });
  });
}
