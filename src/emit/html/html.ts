import type { Element, Mark, Paper, Piece } from '../../layout/page.js';
import { localeOf } from '../../layout/locale.js';
import type { CompiledJob } from '../../schema/generated/compiled-job.js';
import { languageOf, wordsOf } from '../../words/words.js';
import { screenScript } from './generated/screen.js';
import { style } from './style.js';

const escapes: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;', "'": '&#39;' };
const escaped = (text: string): string => text.replace(/[&<>"']/g, (sign) => escapes[sign] ?? sign);

const attributes = (values: Readonly<Record<string, string | null>>): string =>
  Object.entries(values)
    .map(([name, value]) => (value === null ? '' : ` ${name}="${escaped(value)}"`))
    .join('');

/**
 * Papers as one page for a screen that needs nothing else: boxes are ticked, blanks are filled, and both are saved as a
 * record (schemas/record.schema.json). Made from the same content as the printed pages.
 */
export function htmlOf(job: CompiledJob, title: string, papers: readonly { readonly name: string; readonly paper: Paper }[]): string {
  const words = wordsOf(languageOf(job.shop.language));
  const { screen, head } = words;
  const language = job.shop.locale;
  const { otherJob, unreadable, progress, outside, noNumber } = screen;
  const said = { otherJob, unreadable, progress, outside, noNumber, sign: localeOf(job.shop.locale).sign };
  const sections = papers.map(
    ({ name, paper }) =>
      `<section id="${name}">${papers.length > 1 ? `<h2>${escaped(paper.title)}</h2>` : ''}${render(paper.content)}</section>`,
  );
  const links = papers.map(({ name, paper }) => `<li><a href="#${name}">${escaped(paper.title)}</a></li>`);
  const identity = [job.vehicle.plate, job.vehicle.name, job.digest.slice(0, 8)].filter(Boolean).join(' · ');
  return `<!DOCTYPE html>
<html${attributes({ lang: language, 'data-job': job.id, 'data-digest': job.digest, 'data-words': JSON.stringify(said) })}>
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; script-src 'unsafe-inline'">
<title>${escaped(title)}</title>
<style>${style}</style>
</head>
<body>
<header>
<h1>${escaped(title)}</h1>
<p>${escaped(identity)}</p>
${job.draft ? `<p class="draft">${escaped(head.draftLine)}</p>` : ''}
</header>
<div class="bar" role="toolbar">
<button type="button" id="save">${escaped(screen.save)}</button>
<label class="open">${escaped(screen.open)}<input type="file" id="open" accept="application/json,.json"></label>
<button type="button" id="print">${escaped(screen.print)}</button>
<span id="progress"></span>
<span id="message" role="status"></span>
</div>
<p class="small screen-only">${escaped(screen.kept)}</p>
${papers.length > 1 ? `<nav><ul>${links.join('')}</ul></nav>` : ''}
<main>
${sections.join('\n')}
</main>
<script>${screenScript.replaceAll('</', '<\\/')}</script>
</body>
</html>
`;
}

/** Pieces in reading order. Rows of one table make one table; marks that only draw are left to the paper. */
function render(pieces: readonly Piece[]): string {
  const parts: string[] = [];
  let rows: Element[] = [];
  const flush = () => {
    if (rows.length > 0) parts.push(table(rows));
    rows = [];
  };
  for (const piece of pieces) {
    if (piece.kind !== 'element') continue;
    if (piece.tag === 'TR') {
      if (rows[0] && rows[0].table !== piece.table) flush();
      rows.push(piece);
      continue;
    }
    flush();
    parts.push(renderElement(piece));
  }
  flush();
  return parts.join('');
}

function renderElement(element: Element): string {
  const { tag, field, look, text } = element;
  if (field?.kind === 'tick') {
    const input = `<input type="checkbox"${attributes({ 'data-key': field.key, 'aria-label': field.label })}>`;
    return `<label class="tick">${input}${text ? `<span>${escaped(text)}</span>` : ''}</label>`;
  }
  if (field?.kind === 'blank') {
    const { key, label, limit, workedOut } = field;
    const unit = field.unit ? `<span class="unit">${escaped(field.unit)}</span><output></output>` : '';
    const named = { 'data-key': key, 'aria-label': label, inputmode: field.unit ? 'decimal' : null, 'data-unit': field.unit || null };
    const within = { 'data-low': limit?.low ?? null, 'data-high': limit?.high ?? null, 'data-limit': limit?.says ?? null };
    const from = workedOut && {
      'data-plus': workedOut.plus.join(' '),
      'data-minus': workedOut.minus.join(' ') || null,
      'data-constant': workedOut.constant,
    };
    return `<label class="blank">${escaped(text ?? '')}<input type="text"${attributes({ ...named, ...within, ...from })}>${unit}</label>`;
  }
  switch (tag) {
    case 'Artifact':
      return '';
    case 'Div':
      return `<div${attributes({ class: look ?? null })}>${render(element.children)}</div>`;
    case 'Figure':
      return figure(element);
    case 'H1':
    case 'H2':
      return `<h3>${escaped(text ?? '')}</h3>`;
    case 'H3':
      return `<h4>${escaped(text ?? '')}</h4>`;
    default:
      return `<p${attributes({ class: weightOf(element) })}>${escaped(text ?? '').replaceAll('\n', '<br>')}</p>`;
  }
}

/** The class that stands for size and weight on paper: those of its largest text. */
function weightOf(element: Element): string | null {
  const texts = element.children.filter((mark) => mark.kind === 'text').sort((a, b) => b.size - a.size);
  const [largest] = texts;
  if (!largest) return null;
  if (largest.size >= 14) return 'figure';
  return [largest.size < 10 ? 'small' : null, largest.weight === 'regular' ? null : 'strong'].filter(Boolean).join(' ') || null;
}

function table(rows: readonly Element[]): string {
  const cells = (row: Element): string =>
    row.children
      .map((cell) => {
        if (cell.kind !== 'element') return '';
        const name = cell.tag.toLowerCase();
        const how = attributes({ scope: cell.tag === 'TH' ? 'col' : null, class: cell.look ?? null });
        return `<${name}${how}>${cell.tag === 'TH' ? textOf(cell) : render(cell.children)}</${name}>`;
      })
      .join('');
  return `<div class="scroll"><table>${rows.map((row) => `<tr>${cells(row)}</tr>`).join('')}</table></div>`;
}

const textOf = (element: Element): string =>
  escaped(element.children.map((child) => (child.kind === 'element' ? (child.text ?? '') : '')).join(' '));

/** A drawing as SVG, with what it shows as its name. */
function figure(element: Element): string {
  const { x, y, w, h } = element.area ?? { x: 0, y: 0, w: 0, h: 0 };
  const number = (value: number): string => String(Math.round(value * 100) / 100);
  const box = [x - 2, y - 2, w + 4, h + 4].map(number).join(' ');
  const marks = element.children.map((piece) => (piece.kind === 'element' ? '' : svgOf(piece, number))).join('');
  const size = { width: `${number((w + 4) * 1.4)}`, viewBox: box };
  return `<figure><svg xmlns="http://www.w3.org/2000/svg" role="img"${attributes({ 'aria-label': element.alt ?? '', ...size })}>${marks}</svg></figure>`;
}

function svgOf(mark: Mark, number: (value: number) => string): string {
  const line = (width: number, fill?: string) =>
    fill ? { fill: '#000', stroke: null, 'stroke-width': null } : { fill: 'none', stroke: '#000', 'stroke-width': number(width) };
  switch (mark.kind) {
    case 'text':
      return `<text${attributes({
        x: number(mark.x),
        y: number(mark.y + mark.size * 1.025),
        'font-size': number(mark.size),
        'font-weight': mark.weight === 'regular' ? null : '700',
      })}>${escaped(mark.text)}</text>`;
    case 'line':
      return `<line${attributes({ x1: number(mark.x), y1: number(mark.y), x2: number(mark.toX), y2: number(mark.toY), ...line(mark.width) })}/>`;
    case 'box':
      return `<rect${attributes({ x: number(mark.x), y: number(mark.y), width: number(mark.w), height: number(mark.h), ...line(mark.width, mark.fill) })}/>`;
    case 'circle':
      return `<circle${attributes({ cx: number(mark.x), cy: number(mark.y), r: number(mark.r), ...line(mark.width) })}/>`;
    case 'polygon':
      return `<polygon${attributes({ points: mark.points.map(([x, y]) => `${number(x)},${number(y)}`).join(' '), ...line(mark.width, mark.fill) })}/>`;
    // What belongs to pages only.
    case 'code':
    case 'across':
      return '';
  }
}
