import fs from 'node:fs';
import { it } from 'vitest';
import { parse } from '../src/syntax/parse.js';
import { demoTexts, found, libraryOf } from './helpers/shop.js';
const texts = demoTexts();
const clean = new Set(found(libraryOf(texts)).map(({ place, rule }) => `${place} ${rule}`));
it('one', () => {
  const out: string[] = []; let n = 0, many = 0;
  const seen = new Map<string, number>();
  for (const [file, text] of Object.entries(texts)) {
    if (!file.startsWith('/shop/')) continue;
    const keys: { s: number; e: number; path: string }[] = [];
    const go = (node: any, path: string) => {
      if (node.kind === 'list') node.items.forEach((x: any) => go(x, path + '[]'));
      else if (node.entries) for (const e of node.entries) { const k = text.slice(e.keySpan.start, e.keySpan.end); keys.push({ s: e.keySpan.start, e: e.keySpan.end, path: `${path}.${k}` }); go(e.value, `${path}.${k}`); }
    };
    const { value } = parse({ path: file, text }); if (value) go(value, '');
    const kind = /kind: (\w+)/.exec(text)?.[1];
    for (const { s, e, path } of keys) {
      const key = text.slice(s, e);
      if (key.length < 3 || key === 'kind' || key === 'id') continue;
      const shape = `${kind}${path.replace(/\.(parts|fasteners|fluids|measurements|choices|waits|times|temporaries|charges|items|tools|labour|might-find|features|prices|waste|contains|seals)\.[\w-]+/g, '.$1.*')}`;
      if ((seen.get(shape) ?? 0) >= 2) continue;
      seen.set(shape, (seen.get(shape) ?? 0) + 1);
      const typo = key.slice(0, 1) + key[2] + key[1] + key.slice(3);
      if (typo === key) continue;
      n++;
      const now = found(libraryOf({ ...texts, [file]: text.slice(0, s) + typo + text.slice(e) })).filter(({ place, rule }) => !clean.has(`${place} ${rule}`));
      if (now.length > 1) { many++; out.push(`${file} ${path} -> ${typo}\n` + now.slice(0, 5).map((x) => `     ${x.place} ${x.rule} ${x.message.slice(0, 150)}`).join('\n')); }
    }
  }
  fs.writeFileSync('/tmp/s/one.txt', `${n} tried, ${many} with several\n${out.join('\n')}\n`);
}, 3_600_000);
