// What a screen does with the sheet: keeps ticks and figures in the browser, saves them as a record, opens one again.
// It travels inside the page; the build puts it there as text (src/dev/generate.mjs).

interface Words {
  readonly otherJob: string;
  readonly unreadable: string;
  readonly progress: string;
  readonly outside: string;
  readonly noNumber: string;
  /** The decimal sign of the region. */
  readonly sign: string;
}

/** A saved state of a sheet; its form is schemas/record.schema.json. */
interface SavedRecord {
  format: 'baywright-record/1';
  job: string;
  digest: string;
  saved: string;
  ticks: Record<string, boolean>;
  values: Record<string, string>;
}

const root = document.documentElement;
const { job = '', digest = '' } = root.dataset;
const words = JSON.parse(root.dataset.words ?? '{}') as Words;
const place = `baywright ${job} ${digest}`;
const fields = [...document.querySelectorAll<HTMLInputElement>('input[data-key]')];
const progress = document.querySelector<HTMLElement>('#progress');
const message = document.querySelector<HTMLElement>('#message');
const opener = document.querySelector<HTMLInputElement>('#open');

const say = (text: string): void => {
  if (message) message.textContent = text;
};
const keyOf = (field: HTMLInputElement): string => field.dataset.key ?? '';
const boxes = (): HTMLInputElement[] => fields.filter((field) => field.type === 'checkbox');

const isObject = (value: unknown): boolean => typeof value === 'object' && value !== null;

function state(): SavedRecord {
  const ticks: Record<string, boolean> = {};
  const values: Record<string, string> = {};
  for (const field of fields) {
    if (field.type === 'checkbox') {
      if (field.checked) ticks[keyOf(field)] = true;
    } else if (field.value.trim() !== '') values[keyOf(field)] = field.value.trim();
  }
  return { format: 'baywright-record/1', job, digest, saved: new Date().toISOString(), ticks, values };
}

function show(record: SavedRecord): void {
  for (const field of fields) {
    if (field.type === 'checkbox') field.checked = record.ticks[keyOf(field)] === true;
    else field.value = record.values[keyOf(field)] ?? '';
  }
  fields.forEach(judge);
  count();
}

/** The same as `numberIn` of layout/written-number.ts. */
function numberIn(text: string, unit: string): number | null {
  const bare = text.endsWith(unit) ? text.slice(0, text.length - unit.length).trim() : text;
  const [, whole = '0', top, bottom] = /^(?:(\d{1,4}) )?(\d{1,4})\/([1-9]\d{0,3})$/.exec(bare) ?? [];
  if (top !== undefined && bottom !== undefined) return Number(whole) + Number(top) / Number(bottom);
  if (/^[^.,]*[1-9]\d{0,2}[.,]\d{3}$/.test(bare) && bare.at(-4) !== words.sign) return null;
  const plain = bare.replace('\u2212', '-').replace(/^([^.,]*),([^.,]*)$/, '$1.$2');
  return /^[+-]?\d{1,12}(\.\d{1,12})?$/.test(plain) ? Number(plain) : null;
}

/** What a blank comes to by those that it is worked out from; null where it is not, or where one of them has no number yet. */
function workedOut({ dataset: { plus, minus, constant, unit = '' } }: HTMLInputElement): number | null {
  if (plus === undefined) return null;
  const sum = (keys: string | undefined): number | null => {
    let all = 0;
    for (const key of keys?.split(' ') ?? []) {
      const value = numberIn(fields.find((field) => keyOf(field) === key)?.value.trim() ?? '', unit);
      if (value === null) return null;
      all += value;
    }
    return all;
  };
  const [added, taken] = [sum(plus), sum(minus)];
  return added === null || taken === null ? null : Number((added - taken + Number(constant)).toFixed(6));
}

/** Whether a number is another one, as far as it is written. */
const isOther = (text: string, value: number, right: number): boolean =>
  Math.abs(value - right) > 0.999 * 10 ** -(/[.,](\d+)/.exec(text)?.[1]?.length ?? 0);

/** Says beside a blank what is wrong with what is written in it, and what it comes to if it is worked out. */
function judge(field: HTMLInputElement): void {
  const { unit, low, high, limit = '' } = field.dataset;
  const output = field.parentElement?.querySelector('output');
  if (!output || unit === undefined) return;
  const text = field.value.trim();
  const value = numberIn(text, unit);
  const right = workedOut(field);
  const isOutside = value !== null && ((low !== undefined && value < Number(low)) || (high !== undefined && value > Number(high)));
  const isMiscalculated = value !== null && right !== null && isOther(text, value, right);
  const wrong = text !== '' && value === null ? words.noNumber : isOutside ? words.outside.replace('{limit}', limit) : '';
  const comesTo = right !== null && (text === '' || isMiscalculated) ? `= ${String(right).replace('.', words.sign)}` : '';
  output.textContent = [comesTo, wrong].filter(Boolean).join('; ');
  field.setAttribute('aria-invalid', String(wrong !== '' || isMiscalculated));
}

function count(): void {
  const all = new Set(boxes().map(keyOf));
  const done = new Set(
    boxes()
      .filter((field) => field.checked)
      .map(keyOf),
  );
  if (progress && all.size > 0)
    progress.textContent = words.progress.replace('{done}', String(done.size)).replace('{all}', String(all.size));
}

function keep(): void {
  try {
    localStorage.setItem(place, JSON.stringify(state()));
  } catch {
    // A browser that keeps nothing still saves records.
  }
}

/** A record of this job and this version of it, or a message why not. */
function read(text: string): SavedRecord | null {
  let found: Partial<SavedRecord> | null;
  try {
    found = JSON.parse(text) as Partial<SavedRecord> | null;
  } catch {
    say(words.unreadable);
    return null;
  }
  if (found === null || found.format !== 'baywright-record/1' || !isObject(found.ticks) || !isObject(found.values)) {
    say(words.unreadable);
    return null;
  }
  if (found.job !== job || found.digest !== digest) {
    say(words.otherJob);
    return null;
  }
  return found as SavedRecord;
}

document.addEventListener('input', (event) => {
  const field = event.target;
  if (!(field instanceof HTMLInputElement) || !field.dataset.key) return;
  // The same blank stands in several places: what is written in one is written in all.
  for (const other of fields) {
    if (other === field || keyOf(other) !== keyOf(field)) continue;
    if (field.type === 'checkbox') other.checked = field.checked;
    else other.value = field.value;
    judge(other);
  }
  judge(field);
  fields.filter(({ dataset }) => dataset.plus !== undefined).forEach(judge);
  count();
  keep();
});

document.querySelector('#save')?.addEventListener('click', () => {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(new Blob([`${JSON.stringify(state(), null, 2)}\n`], { type: 'application/json' }));
  link.download = `${job}-record.json`;
  link.click();
  URL.revokeObjectURL(link.href);
  say('');
});

document.querySelector('#print')?.addEventListener('click', () => print());

opener?.addEventListener('change', async () => {
  const file = opener.files?.[0];
  if (!file) return;
  const record = read(await file.text());
  opener.value = '';
  if (!record) return;
  say('');
  show(record);
  keep();
});

let before: string | null = null;
try {
  before = localStorage.getItem(place);
} catch {
  // Nothing is kept.
}
const kept = before === null ? null : read(before);
if (kept) show(kept);
else count();
