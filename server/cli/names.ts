/** `storypole definition`, `type-definition`, `references`, `hover` and `symbols`: what an editor tells of names, for scripts. */
import { definitionAt } from '../language/definition.ts';
import { hoverAt } from '../language/hover.ts';
import { referencesAt } from '../language/references.ts';
import { typeDefinitionsAt } from '../language/type-definition.ts';
import { symbolsNamed } from '../language/workspace-symbols.ts';
import { starterSource } from '../model/starter.ts';
import type { Answer } from './answer.ts';
import { atPlace, spotIn } from './at-place.ts';
import { at } from './finding-text.ts';
import { documentOf, rangeJson } from './json.ts';
import type { Spot } from './located.ts';
import { type Common, type Session, sessionFor } from './session.ts';
import { Stop } from './stop.ts';
import { choose } from './targets.ts';
import { printable } from './words.ts';

const noName = (written: string): Stop =>
  new Stop(`No name that means anything stands at ${written}. Ask where one is declared or used.`);

/** Where the name at a place is declared. Throws Stop where none stands there. */
export function definition(written: string, options: Common): Answer {
  const session = sessionFor(options);
  const { snapshot, offset } = atPlace(written, session.current);
  const found = definitionAt(snapshot, offset);
  if (!found) {
    const [elsewhere] = referencesAt(snapshot, offset);
    throw elsewhere?.source === starterSource
      ? new Stop(`What is named at ${written} comes with the tool, and is declared in no file.`)
      : noName(written);
  }
  const spot = spotIn(found.source, found.name);
  if (options.format === 'json')
    return { status: 0, result: documentOf('definition', { locations: [rangeJson(spot, session.pathOf)] }) };
  return { status: 0, result: [`${lineOf(spot, session)}\n`] };
}

/** Where what a thing is made of, or made after, is declared. Throws Stop where nothing is known of that. */
export function typeDefinition(written: string, options: Common): Answer {
  const session = sessionFor(options);
  const { snapshot, offset } = atPlace(written, session.current);
  const all = typeDefinitionsAt(snapshot, offset);
  if (all.length === 0)
    throw new Stop(
      `What stands at ${written} is made of nothing that is declared. Ask at a unit, a part, a material or a parameter.`,
    );
  const found = all.filter(({ source }) => source !== starterSource).map((one) => spotIn(one.source, one));
  if (found.length === 0)
    throw new Stop(`What the thing at ${written} is made of comes with the tool, and is declared in no file.`);
  if (options.format === 'json') {
    const locations = found.map((spot) => rangeJson(spot, session.pathOf));
    return { status: 0, result: documentOf('type-definition', { locations }) };
  }
  return { status: 0, result: found.map((spot) => `${lineOf(spot, session)}\n`) };
}

export interface ReferencesOptions extends Common {
  readonly declaration: boolean;
}

/** Where the thing that is named at a place is named. Throws Stop where none is. */
export function references(written: string, options: ReferencesOptions): Answer {
  const session = sessionFor(options);
  const { snapshot, offset, projects } = atPlace(written, session.current);
  const all = referencesAt(snapshot, offset, projects);
  if (all.length === 0) throw noName(written);
  const found = all
    .filter(({ isDeclaration }) => options.declaration || !isDeclaration)
    .map((one) => ({ spot: spotIn(one.source, one), declares: one.isDeclaration }));
  if (options.format === 'json') {
    const listed = found.map(({ spot, declares }) => ({ range: rangeJson(spot, session.pathOf), declares }));
    return { status: 0, result: documentOf('references', { references: listed }) };
  }
  return { status: 0, result: found.map(({ spot }) => `${lineOf(spot, session)}\n`) };
}

/** What an editor shows on hover, as Markdown. Throws Stop where there is nothing to tell. */
export function hover(written: string, options: Common): Answer {
  const session = sessionFor(options);
  const { snapshot, offset } = atPlace(written, session.current);
  snapshot.project.refreshNow();
  const told = hoverAt(snapshot, offset);
  if (!told)
    throw new Stop(
      `There is nothing to tell of what stands at ${written}. Ask at a name, a word of the language or a number.`,
    );
  if (options.format !== 'json') return { status: 0, result: [`${printable(told.text)}\n`] };
  const range = rangeJson(spotIn(snapshot.source, told), session.pathOf);
  return { status: 0, result: documentOf('hover', { hover: { range, text: told.text } }) };
}

export interface SymbolsOptions extends Common {
  readonly named: string;
}

/** Declarations and the things in templates of the chosen projects, by a part of their names, best first. */
export function symbols(paths: readonly string[], options: SymbolsOptions): Answer {
  const session = sessionFor(options);
  const chosen = choose(paths, session.current);
  const shown = (file: string): boolean => chosen.some(({ project, files }) => (files ?? project.sources).has(file));
  const found = symbolsNamed(
    chosen.map(({ project }) => project),
    options.named,
    Number.POSITIVE_INFINITY,
  )
    .filter(({ source }) => shown(source.id))
    .map((one) => ({ ...one, spot: spotIn(one.source, one) }));
  // Where nothing is looked for, none is better than another.
  if (options.named === '') {
    found.sort((a, b) => (a.source === b.source ? a.start - b.start : a.source.id < b.source.id ? -1 : 1));
  }
  if (options.format === 'json') {
    const listed = found.map(({ word, name, container, spot }) => ({
      word,
      name,
      container,
      range: rangeJson(spot, session.pathOf),
    }));
    return { status: 0, result: documentOf('symbols', { symbols: listed }) };
  }
  return {
    status: 0,
    result: found.map(({ word, name, container, spot }) => {
      const inside = container.endsWith('.closet') ? '' : session.paint('dim', ` in ${printable(container)}`);
      return `${session.paint('bold', at(spot, session))} ${word} ${printable(name)}${inside}\n`;
    }),
    remark: found.length === 0 ? `Nothing here is called like "${options.named}".` : undefined,
  };
}

/** `templates/linen.closet:12:5: zone main on back {`. */
export function lineOf(spot: Spot, session: Session): string {
  return `${session.paint('bold', at(spot, session))}: ${printable(textOfLine(spot).trim())}`;
}

export function textOfLine({ source, from }: Spot): string {
  const start = source.offsetAt({ line: from.line, column: 0 });
  return /^[^\r\n]*/.exec(source.text.slice(start))?.[0] ?? '';
}
