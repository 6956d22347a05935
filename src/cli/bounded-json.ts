/** Nothing that the tool writes is nested deeper, or has more lists and objects, or more values, than these. */
const most = { depth: 64, groups: 5_000_000, values: 50_000_000 };

/** The value of a JSON text; undefined where it is none, or so deep or so much that reading it could fill the memory. */
export function boundedJson(text: string): unknown {
  if (!isBounded(text)) return undefined;
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

const [quote, comma, backslash] = [34, 44, 92];

function isBounded(text: string): boolean {
  let [depth, groups, values] = [0, 0, 0];
  for (let at = 0; at < text.length; at++) {
    const character = text.charCodeAt(at);
    if (character === quote) {
      at = endOfText(text, at);
      if (at < 0) return false;
    } else if (character === comma) values++;
    // `[` and `{`, then `]` and `}`.
    else if (character === 91 || character === 123) {
      groups++;
      depth++;
    } else if (character === 93 || character === 125) depth--;
    if (depth > most.depth || groups > most.groups || values > most.values) return false;
  }
  return true;
}

/** Where the text that a quote begins ends; -1 where it does not. */
function endOfText(text: string, start: number): number {
  for (let end = text.indexOf('"', start + 1); end >= 0; end = text.indexOf('"', end + 1)) {
    let before = end - 1;
    while (text.charCodeAt(before) === backslash) before--;
    if ((end - before) % 2 === 1) return end;
  }
  return -1;
}
