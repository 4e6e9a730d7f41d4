/** Numbers in another spelling: feet and inches, lists, quotation marks, products. */
import { type Item, placeOf } from '../../grammar/tree.ts';
import type { Finding, Fix } from './finding.ts';
import { anew, type HeadSlip, textOf, told } from './head-slips.ts';
import { isMatch, literalsOf, matchPhrase } from './phrase.ts';

export function numberSlip(slip: HeadSlip): Finding | undefined {
  return (
    inchesBehindFeet(slip) ??
    feetDashInches(slip) ??
    noNumber(slip) ??
    quotedValue(slip) ??
    commasMissing(slip) ??
    severalInOne(slip) ??
    timesCount(slip) ??
    productWithoutSign(slip)
  );
}

/** `7'4`, `7ft 4`: the inches have no mark. */
function inchesBehindFeet(slip: HeadSlip): Finding | undefined {
  const { statement, items, mismatch } = slip;
  const [feet, inches] = [items[mismatch.at - 1], items[mismatch.at]];
  if (feet?.kind !== 'number' || !/^(?:ft|')$/.test(feet.parts.at(-1)?.unit?.text ?? '')) return undefined;
  if (inches?.kind !== 'number' || inches.parts.some(({ unit }) => unit)) return undefined;
  const range = { start: feet.start, end: inches.end };
  const made = anew(slip, range, `${textOf(statement, range)}in`);
  const message = `Behind feet stand inches, and ${inches.raw} has no unit of measure.`;
  return made && told(statement, inches, message, asLength(made.fix));
}

/** `4-6` for four feet and six inches. By hand: it may be another number that lost its fraction. */
function feetDashInches(slip: HeadSlip): Finding | undefined {
  const { statement, items, mismatch } = slip;
  const [feet, inches] = [items[mismatch.at - 1], items[mismatch.at]];
  if (feet?.kind !== 'number' || inches?.kind !== 'negation' || inches.operand.kind !== 'number') return undefined;
  const number = inches.operand;
  const isBare = [feet, number].every(({ parts, raw }) => parts.length === 1 && !parts[0]?.unit && /^\d+$/.test(raw));
  if (!isBare || feet.end !== inches.start || Number(number.raw) > 11) return undefined;
  const range = { start: feet.start, end: inches.end };
  const made = anew(slip, range, `${feet.raw}ft ${number.raw}in`);
  if (!made) return undefined;
  const meant = made.fix.edits[0]?.text;
  const message = `${textOf(statement, range)} says no unit of measure: feet and inches are written ${meant}.`;
  return told(statement, range, message, asLength({ ...made.fix, byHand: true }));
}

function asLength(fix: Fix): { readonly advice: string; readonly fixes: readonly Fix[] } {
  return { advice: `Did you mean ${fix.edits[0]?.text}?`, fixes: [fix] };
}

/** `studs 1in 17in 33in`: between each of them. */
function commasMissing(slip: HeadSlip): Finding | undefined {
  const { statement, items, mismatch } = slip;
  const first = items[mismatch.at - 1];
  const rest = items.slice(mismatch.at - 1);
  const last = rest.at(-1);
  if (!first || !last || rest.length < 3 || !rest.every(({ kind }) => kind === 'number')) return undefined;
  const made = anew(
    slip,
    { start: first.start, end: last.end },
    rest.map((item) => textOf(statement, item)).join(', '),
  );
  return (
    made &&
    told(statement, { start: first.start, end: last.end }, 'Between these a comma stands each time.', {
      advice: `Write ${made.whole}`,
      fixes: [{ ...made.fix, title: 'Write commas' }],
    })
  );
}

/** `60.5.2in`. */
function noNumber({ statement, items, mismatch }: HeadSlip): Finding | undefined {
  const [before, item] = [items[mismatch.at - 1], items[mismatch.at]];
  if (before?.kind !== 'number' || item?.kind !== 'number' || before.end !== item.start) return undefined;
  const range = { start: before.start, end: item.end };
  return told(statement, range, `${textOf(statement, range)} is no number.`, {
    advice: 'Write it with one point, or as a fraction: 60.5 or 60-1/2.',
    fixes: [],
  });
}

/** `length "60in"`. */
function quotedValue(slip: HeadSlip): Finding | undefined {
  const { statement, items, mismatch } = slip;
  const item = items[mismatch.at];
  if (item?.kind !== 'text' || !/^[\d(.-]/.test(item.value)) return undefined;
  const made = anew(slip, item, item.value);
  return (
    made &&
    told(statement, item, 'A number stands without quotation marks.', {
      advice: `Write ${item.value}`,
      fixes: [made.fix],
    })
  );
}

/** `length 8ft, 12ft`, where each is a statement of its own. */
function severalInOne({ statement, entry, items, mismatch }: HeadSlip): Finding | undefined {
  const commas = items.filter((item) => item.kind === 'mark' && item.text === ',');
  const isComma = commas.some((comma) => comma === items[mismatch.at]);
  if (!entry.repeats || !isComma || statement.block) return undefined;
  const ends = [...commas.map((comma) => items.indexOf(comma)), items.length];
  const groups = ends.map((end, i) => items.slice(i === 0 ? 0 : (ends[i - 1] as number) + 1, end));
  if (!groups.every((group) => group.length > 0 && isMatch(matchPhrase(entry.phrase, group)))) return undefined;
  const edits = commas.map((comma, i) => ({
    place: placeOf(statement, { start: comma.start, end: groups[i + 1]?.[0]?.start ?? comma.end }),
    text: `; ${entry.word} `,
  }));
  const whole = groups
    .map((group) => `${entry.word} ${textOf(statement, { start: group[0]?.start ?? 0, end: group.at(-1)?.end ?? 0 })}`)
    .join('; ');
  return told(statement, items[mismatch.at] as Item, `"${entry.word}" says one at a time.`, {
    advice: `Write ${whole}`,
    fixes: [{ title: `Write ${whole}`, edits }],
  });
}

/** `length 8ft x 3`. */
function timesCount(slip: HeadSlip): Finding | undefined {
  const { statement, items, mismatch } = slip;
  const [times, count] = items.slice(mismatch.at);
  if (items.length !== mismatch.at + 2 || !times || !count || !/^[x×*]$/i.test(textOf(statement, times)))
    return undefined;
  const made = anew(slip, { start: times.start, end: count.end }, `count ${textOf(statement, count)}`);
  return (
    made &&
    told(statement, times, 'How many there are stands behind "count".', {
      advice: `Write ${made.whole}`,
      fixes: [made.fix],
    })
  );
}

/** `1/2 width`. */
function productWithoutSign(slip: HeadSlip): Finding | undefined {
  const { statement, entry, items, mismatch } = slip;
  const [count, of] = [items[mismatch.at - 1], items[mismatch.at]];
  if (count?.kind !== 'number' || count.parts.some(({ unit }) => unit) || of?.kind !== 'path') return undefined;
  // A word of the language has no value.
  if (literalsOf(entry.phrase).includes(textOf(statement, of))) return undefined;
  const range = { start: count.start, end: of.end };
  const made = anew(slip, range, `${count.raw} * ${textOf(statement, of)}`);
  return (
    made &&
    told(statement, range, `Between "${count.raw}" and "${textOf(statement, of)}" a * is missing.`, {
      advice: `Write ${made.whole}`,
      fixes: [made.fix],
    })
  );
}
