/** What the project declaration says, with the defaults for what it does not. */
import { headPlace, placeOf, sliceOf } from '../../grammar/tree.ts';
import { countIn, lengthIn, placeOfSlot, plainContext } from './context.ts';
import { type PolicyName, policyNames } from './declared.ts';
import { written } from './edits.ts';
import { type Finding, finding } from './finding.ts';
import { limits } from './limits.ts';
import type { Declared, Names } from './names.ts';
import { child, nameIn, type Reading, says, textIn } from './reading.ts';
import * as rules from './rules.ts';
import { canShow, type Show, showInches, showMillimetres } from './show.ts';
import { inches, NONE, type Ticks } from './ticks.ts';
import { Trace } from './trace.ts';

export interface ProjectSettings {
  readonly title: string;
  readonly show: Show;
  readonly currency: string | undefined;
  readonly kerf: Ticks;
  readonly sawStep: Ticks;
  readonly endTrim: Ticks;
  readonly keepOffcutsFrom: Ticks;
  /** What the plan of each material is to keep to at the same cost. */
  readonly mostPatterns: number | undefined;
  readonly mostStopSettings: number | undefined;
  readonly policies: readonly PolicyName[];
}

/** The edition of the language this tool reads. */
export const edition = 1;

export const defaultSettings: ProjectSettings = {
  title: '',
  show: showInches,
  currency: undefined,
  kerf: inches(1 / 8),
  sawStep: inches(1 / 16),
  endTrim: NONE,
  // An offcut of 24 in or more is worth keeping: common practice, no source.
  keepOffcutsFrom: inches(24),
  mostPatterns: undefined,
  mostStopSettings: undefined,
  policies: [],
};

export function settingsOf(
  declared: Declared | undefined,
  names: Names,
): { readonly settings: ProjectSettings; readonly findings: readonly Finding[] } {
  if (!declared) return { settings: defaultSettings, findings: [] };
  const { reading } = declared;
  const findings: Finding[] = [];
  const context = plainContext(names, new Trace(), (f) => findings.push(f));
  const length = (word: string): Ticks | undefined => lengthIn(child(reading, word), 'value', context);
  const positive = (word: string): Ticks | undefined => {
    const value = length(word);
    if (value !== 0) return value;
    findings.push(
      finding(
        rules.outOfBounds,
        headPlace((child(reading, word) as Reading).statement),
        `"${word}" cannot be nothing.`,
        { advice: `Leave it out, or write for example: ${word} 1/16in`, examples: true },
      ),
    );
    return undefined;
  };
  const language = child(reading, 'language');
  const stated = countIn(language, 'edition', context, 1, 1000);
  if (language && stated !== undefined && stated > edition) {
    findings.push(
      finding(
        rules.outOfBounds,
        headPlace(language.statement),
        `This tool reads edition ${edition} of the language; the project is written in ${stated}.`,
        { advice: 'Use a newer version of the tool.' },
      ),
    );
  }
  const currency = child(reading, 'currency');
  const code = currency && nameIn(currency, 'code');
  if (currency && code && !/^[A-Z]{3}$/.test(code.text)) {
    findings.push(
      finding(rules.phraseNotUnderstood, placeOf(currency.statement, code), `"${code.text}" is not a currency.`, {
        advice: 'Write its code of three capital letters, such as EUR.',
        fixes: /^[A-Za-z]{3}$/.test(code.text)
          ? [written(placeOf(currency.statement, code), code.text.toUpperCase())]
          : [],
      }),
    );
  }
  const title = textIn(reading, 'title') ?? nameIn(reading)?.text ?? '';
  const d = defaultSettings;
  return {
    settings: {
      title,
      show: showOf(child(reading, 'show'), context),
      currency: code && /^[A-Z]{3}$/.test(code.text) ? code.text : undefined,
      kerf: length('kerf') ?? d.kerf,
      sawStep: positive('saw-step') ?? d.sawStep,
      endTrim: length('end-trim') ?? d.endTrim,
      keepOffcutsFrom: length('keep-offcuts') ?? d.keepOffcutsFrom,
      mostPatterns: countIn(child(reading, 'patterns'), 'most', context, 1, limits.mostPatterns.most),
      mostStopSettings: countIn(child(reading, 'stop-settings'), 'most', context, 1, limits.mostPatterns.most),
      policies: policyNames(reading),
    },
    findings,
  };
}

function showOf(reading: Reading | undefined, context: ReturnType<typeof plainContext>): Show {
  if (!reading) return showInches;
  const base = says(reading, 'millimetres') ? showMillimetres : showInches;
  const step = lengthIn(reading, 'step', context);
  if (step === undefined || step === 0) return base;
  const show = { ...base, step };
  if (canShow(show)) return show;
  const [steps, sample] =
    base.system === 'inches'
      ? ['1in divided by a whole number up to 1000', '1/16in']
      : ['whole thousandths of a millimetre', '0.5mm'];
  const place = placeOfSlot(reading, 'step');
  context.report(
    finding(
      rules.outOfBounds,
      place,
      `Lengths cannot be shown in steps of ${sliceOf(place.statement, place)}: in ${base.system} a step is ${steps}.`,
      { advice: `Write for example: show ${base.system} to ${sample}` },
    ),
  );
  return base;
}

/** Equal as far as any unit's result goes. */
export function sameForUnits(a: ProjectSettings, b: ProjectSettings): boolean {
  return (
    a.show.system === b.show.system &&
    a.show.step === b.show.step &&
    a.sawStep === b.sawStep &&
    a.policies.map((p) => p.name).join() === b.policies.map((p) => p.name).join()
  );
}
