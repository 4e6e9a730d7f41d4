/**
 * A unit: a pure function of its template, arguments, overrides, survey and policies. Equal inputs are
 * computed once; what a result looked up is kept with it, so that it is known when it no longer holds.
 */
import { headPlace, type Item, type Path, type Place, placeOf, type Statement, sliceOf } from '../../grammar/tree.ts';
import { type Blueprint, blueprintOf, headReading, lineageOf, prop, thingsOf } from './blueprint.ts';
import {
  type Context,
  declarationAt,
  type Homes,
  namesAt,
  plainContext,
  unknownName,
  unknownValue,
} from './context.ts';
import { addedFix, written } from './edits.ts';
import { examplesIn } from './examples.ts';
import { type Finding, type Fix, finding } from './finding.ts';
import type { Layout } from './layout.ts';
import { memo } from './memo.ts';
import { mirror } from './mirror.ts';
import { calledInProject, type Declared, type DeclaredKind, type Names } from './names.ts';
import { didYouMean, nearFixes } from './near-names.ts';
import { nearest, nearestOnes } from './nearest.ts';
import { mirroredInside } from './order-slips.ts';
import { decimalComma } from './other-spellings.ts';
import { applyOverrides } from './overrides.ts';
import type { Parameter } from './parameter.ts';
import { checkDefault, checkRange, inOrder, type ParameterRange, rangeOf } from './parameter-range.ts';
import { type ParameterType, parameterTypes } from './parameter-types.ts';
import { isExpression, literalsOf } from './phrase.ts';
import { dotted, expressionIn, nameIn, pathIn, type Reading } from './reading.ts';
import { withoutRepeated } from './reading-fixes.ts';
import { resolve } from './resolve.ts';
import * as rules from './rules.ts';
import { type Show, showLength } from './show.ts';
import type { TemplateSpec } from './spec.ts';
import { surveyOf } from './survey.ts';
import { specOf } from './template.ts';
import type { TemplateContext } from './template-values.ts';
import { meaningful } from './text-problems.ts';
import type { Ticks } from './ticks.ts';
import { Trace } from './trace.ts';
import { unitAsWord } from './unit-spellings.ts';
import { evaluate, expect, type Value, valueKey } from './values.ts';
import { placesOf, topWords, wordIn } from './vocabulary.ts';

export interface Settings {
  readonly show: Show;
  readonly sawStep: Ticks;
}

export interface Resolved {
  readonly layout: Layout;
  readonly spec: TemplateSpec;
  readonly findings: readonly Finding[];
  readonly trace: Trace;
}

/** Parameters of a template by name, those of its bases included. Findings are about the template. */
export function parametersOf(blueprint: Blueprint, report: (f: Finding) => void): Map<string, Parameter> {
  const found = new Map<string, Parameter>();
  for (const b of thingsOf(blueprint, 'parameter')) {
    const reading = headReading(b);
    const path = pathIn(reading, 'type');
    if (!path) continue;
    const written = dotted(path);
    const known = parameterTypes.find((type) => type === written);
    // With the type that was most likely meant, it is there for all that names it.
    const type = known ?? nearest(written, parameterTypes);
    if (known === undefined) {
      const place = placeOf(reading.statement, path);
      report(
        finding(rules.wrongQuantity, place, `"${written}" is not a type of parameter.`, {
          advice: type ? `Did you mean "${type}"?` : `Types are ${parameterTypes.join(', ')}.`,
          fixes: type ? [{ title: `Write "${type}"`, edits: [{ place, text: type }] }] : [],
        }),
      );
    }
    if (type !== undefined) found.set(b.name, { name: b.name, type: type as ParameterType, reading });
  }
  return found;
}

/** What a unit gives for one parameter: the statement in the unit. */
export type Arguments = ReadonlyMap<string, Statement>;

/** A template made ready: what it extends merged in, its parameters known. */
export interface TemplateInfo {
  readonly declared: Declared;
  readonly blueprint: Blueprint;
  readonly homes: Homes | undefined;
  readonly parameters: ReadonlyMap<string, Parameter>;
  readonly ranges: ReadonlyMap<string, ParameterRange>;
  readonly defaults: ReadonlyMap<string, Value>;
  readonly findings: readonly Finding[];
  readonly trace: Trace;
}

export function templateInfo(declared: Declared): TemplateInfo {
  const findings: Finding[] = [];
  const trace = new Trace();
  const report = (f: Finding): void => void findings.push(f);
  const lineage = lineageOf(declared, trace, report);
  const homes = homesOf(lineage);
  const plain = plainContext(declared.home, trace, report, homes);
  const blueprint = blueprintOf(lineage, report);
  const parameters = parametersOf(blueprint, report);
  const defaults = new Map<string, Value>();
  const ranges = new Map<string, ParameterRange>();
  for (const parameter of parameters.values()) {
    const value = defaultValue(parameter, plain);
    if (value) defaults.set(parameter.name, value);
    const range = rangeOf(parameter, plain);
    if (range) ranges.set(parameter.name, inOrder(range, parameter, report));
    if (value && range && range.least <= range.most) checkDefault(value, parameter, range, report);
    const place = (['unit', 'template-test'] as const).find((one) => wordIn(one, parameter.name));
    if (place) {
      const at = pathIn(parameter.reading, 'name');
      report(
        finding(
          rules.nameTaken,
          at ? placeOf(parameter.reading.statement, at) : headPlace(parameter.reading.statement),
          `"${parameter.name}" is a word of the language that stands in a ${place === 'unit' ? 'unit' : 'test'}, so no ${place === 'unit' ? 'unit' : 'test'} could give it.`,
          { advice: 'Give the parameter another name.' },
        ),
      );
    }
  }
  return { declared, blueprint, homes, parameters, ranges, defaults, findings, trace };
}

/** Those of libraries, of what a template is built on; undefined where all of it is among its own names. */
function homesOf(lineage: readonly Declared[]): Homes | undefined {
  const own = lineage.at(-1)?.home;
  const others = lineage.filter(({ home }) => home !== own);
  return others.length === 0 ? undefined : new Map(others.map(({ statement, home }) => [statement, home]));
}

export interface Given {
  readonly values: ReadonlyMap<string, Value | undefined>;
  readonly statements: Arguments;
  readonly findings: readonly Finding[];
}

/** Who gives a template its arguments. */
export interface Giver {
  readonly reading: Reading;
  readonly statement: Statement;
  /** `Unit "A-101"`. */
  readonly called: string;
}

/** The values of a template's parameters in one unit, or one test. All findings sit there. */
export function argumentsGiven(giver: Giver, info: TemplateInfo, names: Names, trace: Trace, show: Show): Given {
  const findings: Finding[] = [];
  const report = (f: Finding): void => void findings.push(f);
  const plain = plainContext(names, trace, report);
  const statements = argumentsOf(giver.reading, info.parameters, info.declared, report);
  const values = new Map<string, Value | undefined>();
  for (const parameter of info.parameters.values()) {
    const statement = statements.get(parameter.name);
    if (!statement) {
      const value = info.defaults.get(parameter.name);
      values.set(parameter.name, value);
      if (!value && expressionIn(parameter.reading, 'default') === undefined && !parameter.reading.slots.default) {
        report(
          finding(
            rules.argumentMissing,
            headPlace(giver.statement),
            `${giver.called} does not give "${parameter.name}", which template "${calledInProject(info.declared)}" needs.`,
            {
              ...askedFor(parameter, info.ranges.get(parameter.name), giver.statement, show),
              related: [
                { place: headPlace(parameter.reading.statement), message: `"${parameter.name}" is asked for here.` },
              ],
            },
          ),
        );
      }
      continue;
    }
    const value = argumentValue(statement, parameter, plain);
    if (value) checkRange(value, statement, parameter, info.ranges.get(parameter.name), show, report);
    values.set(parameter.name, value);
  }
  return { values, statements, findings };
}

/** What a unit would have to say: the least of the range where there is one, else any value of its type. */
function askedFor(
  { name, type }: Parameter,
  range: ParameterRange | undefined,
  unit: Statement,
  show: Show,
): { readonly advice: string; readonly fixes: readonly Fix[] } {
  const shown = (amount: number): string =>
    type === 'length' ? showLength(amount as Ticks, show) : `${amount}${type === 'angle' ? 'deg' : ''}`;
  const value = range
    ? shown(range.least)
    : { length: examplesIn('94in', show.system), count: '1', angle: '90deg', text: '"..."' }[type as 'length'];
  if (value === undefined) return { advice: `Write "${name}" and the name of a ${type} in the unit.`, fixes: [] };
  const within = range ? `: from ${shown(range.least)} to ${shown(range.most)} is allowed` : '';
  return {
    advice: `Write for example \`${name} ${value}\` in the unit${within}.`,
    fixes: addedFix(unit, `${name} ${value}`, { byHand: true }),
  };
}

export interface ResolveUnitInput {
  readonly info: TemplateInfo;
  readonly values: ReadonlyMap<string, Value | undefined>;
  readonly mirrored: boolean;
  readonly overrides: readonly Reading[];
  readonly survey: Declared | undefined;
  readonly settings: Settings;
  /** Of the unit's project; the template's own names are those of its home. */
  readonly names: Names;
}

interface Drawn {
  readonly spec: TemplateSpec;
  readonly findings: readonly Finding[];
  readonly trace: Trace;
}

/** So many are kept for a template: units of one width mostly come in a row. */
const mostDrawn = 200;

const drawnSpecs = new WeakMap<TemplateInfo, Map<string, Drawn>>();

/** A template with these values, as it is drawn: evaluated once for all units that differ only in what was measured. */
function drawnSpec(info: TemplateInfo, values: Given['values'], mirrored: boolean): Drawn {
  const byValues = memo(drawnSpecs, info, () => new Map<string, Drawn>());
  const key = `${mirrored} ${[...values].map(([name, value]) => `${name}=${valueKey(value)}`).join(';')}`;
  const known = byValues.get(key);
  if (known?.trace.stillHolds()) return known;
  const findings: Finding[] = [];
  const trace = new Trace();
  trace.take(info.trace);
  const context = plainContext(info.declared.home, trace, (f) => findings.push(f), info.homes);
  const spec = specOf(info.blueprint, templateContext(info.blueprint, values, context));
  const drawn: Drawn = { spec: mirrored ? mirror(spec) : spec, findings, trace };
  if (byValues.size >= mostDrawn) byValues.delete(byValues.keys().next().value as string);
  byValues.set(key, drawn);
  return drawn;
}

/** The geometry of a unit with these inputs. */
export function resolveUnit({
  info,
  values,
  mirrored,
  overrides,
  survey,
  settings,
  names,
}: ResolveUnitInput): Resolved {
  const drawn = drawnSpec(info, values, mirrored);
  const findings: Finding[] = [...drawn.findings];
  const trace = new Trace();
  trace.take(drawn.trace);
  const report = (f: Finding): void => void findings.push(f);
  // What is stated as on site is evaluated among the names of the unit.
  const onSite = templateContext(info.blueprint, values, plainContext(names, trace, report));
  const spec = applyOverrides(drawn.spec, overrides, onSite);
  const measured = survey && surveyOf(survey, onSite);
  const layout = resolve({ spec, survey: measured, sawStep: settings.sawStep, show: settings.show, mirrored });
  const unknown = [...values.values()].some((value) => value === undefined);
  return { layout, spec, findings: withoutFollowUps([...findings, ...layout.findings], unknown), trace };
}

/** Where a board or rod is named that is not there, or a parameter has no value, that nothing is said is no news. */
function withoutFollowUps(findings: readonly Finding[], unknownValue: boolean): Finding[] {
  const misnamed = findings.some(
    (f) => f.rule === rules.nameNotKnown && ['board', 'pole'].includes(f.place.statement.word.text),
  );
  return misnamed || unknownValue ? findings.filter((f) => f.rule !== rules.materialMissing) : [...findings];
}

const nearestArguments = new WeakMap<ReadonlyMap<string, Parameter>, Map<string, readonly string[]>>();

/** What may have been meant: looked for once, however many units say the same. */
function nearestArgument(name: string, parameters: ReadonlyMap<string, Parameter>): readonly string[] {
  const known = memo(nearestArguments, parameters, () => new Map<string, readonly string[]>());
  return memo(known, name, () =>
    nearestOnes(name, [...parameters.keys(), 'floor', 'flat', 'phase', 'count', 'policy', 'override']),
  );
}

/** What people call a unit that is built the other way round. */
const turnedWords: ReadonlySet<string> = new Set(['mirrored', 'mirror', 'flipped', 'reversed']);

/** Statements of a unit that give parameters; others are reported. */
export function argumentsOf(
  unit: Reading,
  parameters: ReadonlyMap<string, Parameter>,
  template: Declared,
  report: (f: Finding) => void,
): Map<string, Statement> {
  const given = new Map<string, Statement>();
  for (const statement of unit.args) {
    const name = statement.word.text;
    if (turnedWords.has(name) && !parameters.has(name) && unit.word === 'unit' && statement.items.length === 0) {
      report(mirroredInside(unit.statement, statement));
      continue;
    }
    if (!parameters.has(name)) {
      if (statement.block && topWords.has(name)) {
        report(besideUnit(statement, unit));
        continue;
      }
      const near = nearestArgument(name, parameters);
      const place = placeOf(statement, statement.word);
      report(
        finding(rules.nameNotKnown, place, `Template "${calledInProject(template)}" has no parameter "${name}".`, {
          sought: 'parameter',
          advice:
            didYouMean(near) ??
            `${parameters.size > 0 ? `It has ${[...parameters.keys()].join(', ')}.` : 'It has no parameters.'}${overriding(statement)}`,
          fixes: nearFixes(place, near),
          related: [{ place: headPlace(template.statement), message: `Template "${template.name}".` }],
        }),
      );
      continue;
    }
    const first = given.get(name);
    if (first) {
      report(
        finding(rules.wordRepeated, placeOf(statement, statement.word), `"${name}" is given twice.`, {
          related: [{ place: headPlace(first), message: 'It is given here first.' }],
          advice: 'The first one counts. Remove one of them.',
          fixes: [withoutRepeated(statement, first)],
        }),
      );
      continue;
    }
    given.set(name, statement);
  }
  return given;
}

/** Of a word that is said of things in a template. */
function overriding({ word, items }: Statement): string {
  const isOfThings = placesOf(word.text).some((place) => place !== 'file' && place !== 'project');
  return isOfThings && items.length > 0
    ? ` What stands in the template is changed by its path: override … { ${word.text} … }`
    : '';
}

/** `unit u t { survey { … } }`: a declaration stands by itself. */
function besideUnit(statement: Statement, unit: Reading): Finding {
  const { word } = statement;
  const own = nameIn(unit)?.text;
  return finding(
    rules.wordNotKnown,
    placeOf(statement, word),
    `"${word.text}" cannot stand in a ${unit.word}; it declares something, at the top level of a file.`,
    {
      advice:
        word.text === 'survey' && own !== undefined
          ? `Write it beside the unit: survey ${own} { … }`
          : `Write it beside the ${unit.word}.`,
    },
  );
}

function argumentValue(statement: Statement, parameter: Parameter, context: Context): Value | undefined {
  const items = meaningful(statement);
  const [item, extra] = items.length === 2 && isSign(items[0]) ? items.slice(1) : items;
  if (items.length === 2 && item !== items[0]) context.report(withoutSign(statement, items[0] as Item));
  const isOneValue =
    item !== undefined &&
    isExpression(item) &&
    (decimalComma(statement, item) ?? unitAsWord(item, statement)) !== undefined;
  if ((extra && !isOneValue) || !item || item.kind === 'mark') {
    const parted = extra && afterComma(statement, items);
    if (parted) context.report(parted);
    else if (statement.problems.length === 0) {
      const place = extra ? placeOf(statement, extra) : headPlace(statement);
      context.report(
        finding(
          rules.phraseNotUnderstood,
          place,
          extra
            ? `One value is given for "${parameter.name}", and this is more.`
            : `"${parameter.name}" is given no value.`,
          { advice: `Here should be ${parameter.type === 'length' ? 'a length' : `a ${parameter.type}`}.` },
        ),
      );
    }
    return undefined;
  }
  return valueOfType(item.kind === 'text' || isExpression(item) ? item : undefined, parameter, statement, context);
}

/** `width 60in, count 2`: a comma parts no statements. */
function afterComma(statement: Statement, [, comma, next]: readonly Item[]): Finding | undefined {
  if (comma?.kind !== 'mark' || comma.text !== ',' || next?.kind !== 'path') return undefined;
  return finding(
    rules.phraseNotUnderstood,
    placeOf(statement, comma),
    `"${sliceOf(statement, next)}" begins a statement of its own, and a comma does not part it from what is before it.`,
    {
      advice: 'Write a semicolon, or begin a line.',
      fixes: [written(placeOf(statement, comma), ';')],
    },
  );
}

function isSign(item: Item | undefined): boolean {
  return item?.kind === 'mark' && item.text !== ',';
}

/** `width = 41in`: the value is read all the same. */
function withoutSign(statement: Statement, sign: Item): Finding {
  const place = placeOf(statement, { start: statement.word.end, end: sign.end });
  const text = sliceOf(statement, sign);
  const rest = statement.text.slice(sign.end, statement.head.end).trim();
  return finding(
    rules.phraseNotUnderstood,
    placeOf(statement, sign),
    `No ${text} is written here: a word and what it says stand side by side.`,
    {
      advice: `Write ${statement.word.text} ${rest}`,
      fixes: [{ title: `Remove "${text}"`, edits: [{ place, text: '' }] }],
    },
  );
}

function defaultValue(parameter: Parameter, context: Context): Value | undefined {
  const item = parameter.reading.slots.default?.[0];
  if (!item) return undefined;
  return valueOfType(
    item.kind === 'text' || isExpression(item) ? item : undefined,
    parameter,
    parameter.reading.statement,
    context,
  );
}

function valueOfType(
  item: Parameters<typeof evaluate>[0] | { kind: 'text'; value: string; start: number; end: number } | undefined,
  parameter: Parameter,
  statement: Statement,
  context: Context,
): Value | undefined {
  if (!item) return undefined;
  const { type } = parameter;
  if (type === 'text') {
    if (item.kind === 'text') return { kind: 'text', text: item.value };
    context.report(
      finding(rules.wrongQuantity, placeOf(statement, item), `"${parameter.name}" is a text, and this is none.`, {
        advice: 'Write it in quotation marks.',
        fixes: [written(placeOf(statement, item), `"${sliceOf(statement, item)}"`)],
      }),
    );
    return undefined;
  }
  if (type === 'length' || type === 'count' || type === 'angle') {
    if (item.kind === 'text') {
      context.report(
        finding(
          rules.wrongQuantity,
          placeOf(statement, item),
          `"${parameter.name}" is ${type === 'length' ? 'a length' : type === 'count' ? 'a count' : 'an angle'}, and this is a text.`,
          {
            advice: `Write for example: ${{ length: '94in', count: '1', angle: '90deg' }[type]}`,
            examples: true,
          },
        ),
      );
      return undefined;
    }
    const value = evaluate(item, statement, context);
    return expect(value, type, item, statement, context) === undefined ? undefined : value;
  }
  if (item.kind !== 'path') {
    context.report(
      finding(rules.wrongQuantity, placeOf(statement, item), `"${parameter.name}" is the name of a ${type}.`, {
        advice: `Write the name of a ${type} of the project.`,
      }),
    );
    return undefined;
  }
  const declared = declarationAt(item, [type as DeclaredKind], statement, context);
  return declared && { kind: 'name', of: type, name: dotted(item), home: namesAt(context, statement) };
}

/** What people call the width that is left. */
const takingTheRest: ReadonlySet<string> = new Set(['rest', 'remaining', 'remainder', 'auto', 'full', 'all', 'max']);

/** The words that may stand in a statement behind its first one. */
function wordsOf(word: string): string[] {
  return placesOf(word).flatMap((place) => {
    const entry = wordIn(place, word);
    return entry ? literalsOf(entry.phrase) : [];
  });
}

/** Names within a template: parameters, and dimensions that are fixed by themselves. */
export function templateContext(
  blueprint: Blueprint,
  parameters: ReadonlyMap<string, Value | undefined>,
  plain: Context,
): TemplateContext {
  const computing: { key: string; place: Place }[] = [];
  const context: TemplateContext = {
    ...plain,
    used: new Set(),
    reachesOut: false,
    parameters,
    apart: (trace, report) => templateContext(blueprint, parameters, { ...plain, trace, report }),
    lookUp: (path, statement) => {
      const [first, second, third] = path.words;
      if (first && !second) {
        if (parameters.has(first.text)) {
          context.used.add(first.text);
          return parameters.get(first.text);
        }
        const words = wordsOf(statement.word.text);
        const other = takingTheRest.has(first.text) && words.includes('fill') ? ['fill'] : undefined;
        plain.report(
          other
            ? unknownName(path, statement, 'parameter or word', other)
            : unknownValue(path, statement, 'parameter', [...parameters.keys()], words),
        );
        return undefined;
      }
      if (first && second && !third) return dimension(first.text, second.text, path, statement);
      plain.report(unknownName(path, statement, 'dimension', []));
      return undefined;
    },
  };
  return context;

  function dimension(thing: string, property: string, path: Path, statement: Statement): Value | undefined {
    context.reachesOut = true;
    const found = blueprint.things.find((t) => t.name === thing && ['wall', 'opening', 'zone', 'gap'].includes(t.word));
    const offered: Readonly<Record<string, readonly string[]>> = {
      wall: ['length', 'height'],
      opening: ['width', 'height'],
      zone: ['width'],
      gap: ['width'],
    };
    const reading = found && (offered[found.word] ?? []).includes(property) ? prop(found, property) : undefined;
    const expression = reading && expressionIn(reading, 'value');
    if (!found || !reading || !expression) {
      const known = blueprint.things.flatMap((t) =>
        (offered[t.word] ?? []).filter((p) => prop(t, p)).map((p) => `${t.name}.${p}`),
      );
      if (found && reading && !expression) {
        plain.report(
          finding(
            rules.nameNotKnown,
            placeOf(statement, path),
            `"${dotted(path)}" is not fixed by itself, so nothing can be computed from it.`,
            { advice: 'A sum may be of parameters, and of dimensions that are given as a length.' },
          ),
        );
      } else plain.report(unknownValue(path, statement, 'dimension', known));
      return undefined;
    }
    const key = `${thing}.${property}`;
    const place = headPlace(reading.statement);
    const seen = computing.findIndex((c) => c.key === key);
    if (seen >= 0) {
      const circle = computing.slice(seen);
      // Told once, from its first statement.
      if (circle.every((c) => c.place.statement !== undefined)) {
        plain.report(
          finding(
            rules.nameCircle,
            place,
            `A circle: ${[...circle.map((c) => c.key), key].join(' is computed from ')}.`,
            {
              advice: 'Give one of them as a length.',
              related: circle.slice(1).map((c) => ({ place: c.place, message: `${c.key} is part of the circle.` })),
            },
          ),
        );
      }
      return undefined;
    }
    computing.push({ key, place });
    const value = evaluate(expression, reading.statement, context);
    computing.pop();
    return value;
  }
}
