// The same sheets in Typst, from its registry package: same words, tables, fonts, heads, feet, codes and maps.
import { spawnSync } from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';

/**
 * Installs Typst for itself, to set papers in processes of its own.
 * @param folder where; also of the commands
 * @returns why that cannot be done here; or `rateOf`, pages a second over a batch, and `commands`, for the first sheet of a job and for all, and the folder for both
 */
export function typstIn(folder, fonts) {
  fs.mkdirSync(folder, { recursive: true });
  fs.writeFileSync(path.join(folder, 'package.json'), '{ "type": "module", "private": true }');
  const npm = process.platform === 'win32' ? 'npm.cmd' : 'npm';
  const install = ['install', '--ignore-scripts', '--no-audit', '--no-fund', '@myriaddreamin/typst-ts-node-compiler@0.7.0'];
  if (spawnSync(npm, install, { cwd: folder }).status !== 0) return 'its package could not be installed';
  fs.writeFileSync(
    path.join(folder, 'run.mjs'),
    `import fs from 'node:fs';
import { NodeCompiler } from '@myriaddreamin/typst-ts-node-compiler';
const files = process.argv.slice(2).map((name) => fs.readFileSync(name, 'utf8'));
const compiler = NodeCompiler.create({ fontArgs: [{ fontPaths: [${JSON.stringify(fonts)}] }] });
// Each sheet once: Typst remembers what it has compiled, and a second round would measure its memory.
if (files.length > 1) compiler.pdf({ mainFileContent: 'Warm. #table(columns: 2, [a], [b])' });
const start = performance.now();
for (const [n, text] of files.entries()) fs.writeFileSync(n + '.pdf', compiler.pdf({ mainFileContent: text }));
console.log(performance.now() - start);
`,
  );
  const commandFor = (name, papers) => {
    for (const [n, paper] of papers.entries()) fs.writeFileSync(path.join(folder, `${name}-${n}.typ`), typstOf(paper));
    return ['run.mjs', ...papers.map((_, n) => `${name}-${n}.typ`)];
  };
  return {
    rateOf(papers) {
      const batch = commandFor('batch', papers);
      const times = Array.from({ length: 5 }, () =>
        Number(spawnSync(process.execPath, batch, { cwd: folder, encoding: 'utf8' }).stdout.trim()),
      );
      return (pagesOf(papers) / times.sort((a, b) => a - b)[2]) * 1000;
    },
    commands(name, papers) {
      const all = commandFor(name, papers);
      return { folder, one: all.slice(0, 2), all };
    },
  };
}

export const pagesOf = (papers) => papers.reduce((sum, paper) => sum + paper.pages.length, 0);

const string = (text) => JSON.stringify(text).replaceAll('\\u00a0', '~');
const weights = { regular: 400, semibold: 600, bold: 700 };
const marksOf = (pieces) => pieces.flatMap((piece) => (piece.kind === 'element' ? marksOf(piece.children) : [piece]));

/** Marks where they stand, from a corner. */
function drawn(marks, left, top) {
  const at = (x, y, what) => `#place(dx: ${(x - left).toFixed(2)}pt, dy: ${(y - top).toFixed(2)}pt, ${what})`;
  return marks
    .map((mark) => {
      switch (mark.kind) {
        case 'text':
          return at(mark.x, mark.y, `text(size: ${mark.size}pt, weight: ${weights[mark.weight]}, ${string(mark.text)})`);
        case 'line':
          return at(mark.x, mark.y, `line(end: (${mark.toX - mark.x}pt, ${mark.toY - mark.y}pt), stroke: ${mark.width}pt)`);
        case 'box':
          return at(
            mark.x,
            mark.y,
            `rect(width: ${mark.w}pt, height: ${mark.h}pt, stroke: ${mark.fill ? 'none' : `${mark.width}pt`}${mark.fill ? ', fill: luma(93%)' : ''})`,
          );
        case 'circle':
          return at(mark.x - mark.r, mark.y - mark.r, `circle(radius: ${mark.r}pt, stroke: ${mark.width}pt)`);
        case 'polygon': {
          const points = mark.points.map(([x, y]) => `(${(x - left).toFixed(2)}pt, ${(y - top).toFixed(2)}pt)`).join(', ');
          return `#place(polygon(${mark.fill ? 'fill: black' : `stroke: ${mark.width}pt`}, ${points}))`;
        }
        default:
          return '';
      }
    })
    .join('');
}

/** A code as one picture. */
function codeOf(marks) {
  const code = marks.find((mark) => mark.kind === 'code');
  if (!code) return '';
  const { x, y, size, dark } = code;
  const path = dark.flatMap((row, line) => row.flatMap((on, column) => (on ? [`M${column} ${line}h1v1h-1z`] : []))).join('');
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${dark.length} ${dark.length}"><path d="${path}"/></svg>`;
  return `#place(dx: ${x}pt, dy: ${y}pt, image(bytes(${string(svg)}), format: "svg", width: ${size}pt, alt: "code"))`;
}

/** The content of a paper as Typst markup, flowing; heads and feet behind each page. */
function typstOf(paper) {
  const of = (pieces) => {
    let text = '';
    for (let n = 0; n < pieces.length; n++) {
      const piece = pieces[n];
      if (piece.kind !== 'element') continue;
      if (piece.tag === 'TR') {
        const cellsOf = (row) => row.children.filter((cell) => cell.kind === 'element');
        const rows = [piece];
        while (piece.table && pieces[n + 1]?.table === piece.table) rows.push(pieces[++n]);
        const cells = rows.flatMap((row) => cellsOf(row).map((cell) => `[${of(cell.children)}]`));
        text += `#table(columns: ${cellsOf(piece).length}, ${cells.join(', ')})\n`;
      } else if (piece.field) text += `#box(width: 6mm, height: 6mm, stroke: 1pt) #text(${string(piece.text ?? '')})\n`;
      else if (piece.tag === 'Figure') {
        const { x, y, w, h } = piece.area;
        text += `#figure(alt: ${string(piece.alt ?? '')}, box(width: ${w}pt, height: ${h}pt)[${drawn(marksOf(piece.children), x, y)}])\n\n`;
      } else if (/^H/.test(piece.tag)) text += `#heading(level: ${piece.tag[1]})[#text(${string(piece.text ?? '')})]\n`;
      else if (piece.tag === 'P') text += `#par[#text(${string(piece.text ?? '')})]\n`;
      else text += of(piece.children);
    }
    return text;
  };
  const heads = paper.pages.map((page) => {
    const marks = marksOf(page.pieces.filter((piece) => piece.kind === 'element' && piece.tag === 'Artifact'));
    return `[${drawn(marks, 0, 0)}${codeOf(marks)}]`;
  });
  return `#set document(title: ${string(paper.title)})
#set text(font: "IBM Plex Sans", size: 10pt, lang: ${string(paper.language.slice(0, 2))})
#let heads = (${heads.join(', ')},)
#set page(paper: "a4", margin: (x: 15mm, top: 24mm, bottom: 20mm), background: context heads.at(calc.min(counter(page).get().first(), heads.len()) - 1))
${of(paper.content)}`;
}
