import crypto from 'node:crypto';
import path from 'node:path';
import vm from 'node:vm';
import { realWorld } from '../world/real.js';
import { reread } from '../world/reread.js';
import { cacheFile, cacheName } from './cache-folder.js';
import { kindOfRun, paperAsked, spare, sparing } from './effort.js';
import { packageFolder } from './package-folder.js';

spare();

/**
 * Loads one of the bundles of dist/bundle. To compile it is most of the time of a short run, so what the engine made of
 * it is kept in the user's cache folder and handed back to the engine the next time; what usual runs need is in dist/code
 * already, where the tool was built on this machine (src/dev/build.mjs). It is code, and is used only if it is the
 * user's own file, whole, and made from this very bundle by this very engine; else it is made anew.
 */
export function bundled(name: string): unknown {
  const file = path.join(packageFolder, 'dist/bundle', `${name}.cjs`);
  const source = reread(file);
  const seal = crypto.createHash('sha256').update(process.versions.v8).update(source);
  // The bundles are ASCII.
  const text = source.toString('latin1');
  // The engine takes nothing back that it made under other switches.
  const use = `${file} ${usedBy(name)} ${sparing} ${process.versions.v8} ${process.arch}`;
  const place = cacheFile(use, '.code');
  const kept = (place && keptCode(place, seal)) ?? keptCode(path.join(packageFolder, 'dist/code', cacheName(use, '.code')), seal);
  const script = new vm.Script(text, { filename: file, ...(kept && { cachedData: kept.code }) });
  // At the end, when the engine has compiled what such a run uses; where it could not do what was asked, that was less.
  if (place !== null)
    process.once('exit', (status) => {
      if (!kept || script.cachedDataRejected || status < kept.status) keepCode(place, seal, status, script);
    });
  const module = { exports: {} };
  script.runInThisContext()(module.exports, require, module, file, path.dirname(file), bundled);
  return module.exports;
}

/**
 * What uses a bundle. Of one with much in it each kind of run uses another part, and the engine keeps only what was used.
 */
const usedBy = (name: string): string => {
  if (name === 'paper') return paperAsked;
  // What was typed may be no command.
  return name === 'commands' || name === 'fresh' || (name === 'main' && /^(build|check)( |$)/.test(kindOfRun)) ? kindOfRun : '';
};

/** What the engine made of a bundle, and the status that the run ended with in which it did. */
interface KeptCode {
  readonly code: Buffer;
  readonly status: number;
}

const sealLength = 32;

/** @param over the digest over the bundle */
const sealOf = (over: crypto.Hash, kept: Uint8Array): Buffer => over.copy().update(kept).digest();

/** What was kept, until the next file is read. */
function keptCode(place: string, over: crypto.Hash): KeptCode | null {
  const found = realWorld.readOwn(place);
  if (found === null || found.length <= sealLength) return null;
  const kept = found.subarray(sealLength);
  // The status stands last, so that the code begins where the engine can use it without making a copy.
  return sealOf(over, kept).equals(found.subarray(0, sealLength)) ? { code: kept.subarray(0, -1), status: kept.at(-1) ?? 0 } : null;
}

function keepCode(place: string, over: crypto.Hash, status: number, script: vm.Script): void {
  spare();
  const kept = Buffer.concat([script.createCachedData(), Uint8Array.of(status)]);
  realWorld.keep(place, Buffer.concat([sealOf(over, kept), kept]));
}
