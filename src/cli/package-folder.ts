import fs from 'node:fs';
import path from 'node:path';
import { forward } from '../world/paths.js';

/** The folder of the installed package: schemas, shipped procedures and fonts lie in it. */
export const packageFolder = forward(path.resolve(import.meta.dirname, '../..'));
export const shippedFolder = `${packageFolder}/procedures`;

export function packageVersion(): string {
  const found: unknown = JSON.parse(fs.readFileSync(`${packageFolder}/package.json`, 'utf8'));
  return typeof found === 'object' && found !== null && 'version' in found ? String(found.version) : 'unknown';
}
