/** Libraries: files outside the project, known under a name. */

import { Source } from '../../grammar/source.ts';
import { headPlace, type Place, placeOf, type Statement, segmentOf, spanOf } from '../../grammar/tree.ts';
import { besideUnbraced, unbraced } from './brace-slips.ts';
import { computeDeclared } from './computed.ts';
import { policyInForce } from './declared.ts';
import { type Files, isWithin, join, nameOf, parentOf } from './files.ts';
import { type Finding, finding } from './finding.ts';
import { limits } from './limits.ts';
import { memo } from './memo.ts';
import { conflictOf } from './merge-conflict.ts';
import { counted } from './money.ts';
import { type Declared, keyOf, Names, withLibraries } from './names.ts';
import { pushAll } from './push-all.ts';
import { read, textIn } from './reading.ts';
import { repetitions } from './repeated.ts';
import type { Rule } from './rule.ts';
import * as rules from './rules.ts';
import { settingsOf } from './settings.ts';
import { starterNames } from './starter.ts';
import { tooMany } from './too-many.ts';
import { Trace } from './trace.ts';
import { templateInfo } from './unit.ts';
import { flawOf } from './use-path.ts';
import { topWords } from './vocabulary.ts';

export type Library =
  | { readonly kind: 'opened'; readonly names: Names }
  | { readonly kind: 'failed'; readonly finding: Finding };

/** The names that rules and their limits have. */
export interface RuleNames {
  readonly ruleIds: ReadonlySet<string>;
  readonly limitNames: ReadonlySet<string>;
}

export interface LibraryFiles {
  readonly files: Files;
  /** A link is followed only `within` a folder. */
  readonly textOf: (path: string, within: string) => string | ((place: Place) => Finding);
  readonly collect: (folder: string) => readonly string[];
  /** The folder that a `use` in this file may not leave. */
  readonly boundary: (path: string) => string;
}

interface Opening extends LibraryFiles {
  /** How many libraries have been read so far, those that are there already counted again. */
  opened: number;
  /** What the project uses already, by where it is. */
  readonly known: Map<string, Names>;
  /** The name under which the project itself uses what is there. */
  readonly directly: (at: string) => string | undefined;
}

/** Where a library is, and what it comes to with all that it uses. */
interface Extent {
  readonly at: string;
  readonly libraries: number;
  readonly deep: number;
}

const extents = new WeakMap<Names, Extent>();

interface Step {
  /** Folder or file, links followed. */
  readonly at: string;
  readonly name: string;
}

/**
 * Opens the library that a `use` names. `root` is the folder of the project that uses it. One that is used in several
 * ways, under two names or by another library as well, is opened once: its board is one board, with one stock.
 */
export function openLibrary(use: Declared, from: string, root: string, env: LibraryFiles): Library {
  const known = new Map<string, Names>();
  for (const names of withLibraries(use.home)) {
    const extent = extents.get(names);
    if (extent) known.set(extent.at, names);
  }
  const directly = (at: string): string | undefined => aliasOf(at, use.home, env);
  const opening: Opening = { ...env, opened: 0, known, directly };
  return open(use, from, [{ at: env.files.real(root), name: nameOf(root) || root }], use, '', opening);
}

/** The first name that a project gives to what is there. */
function aliasOf(at: string, own: Names, env: LibraryFiles): string | undefined {
  const called = (path: string): string => nameOf(path.replaceAll('\\', '/')).replace(/\.closet$/, '');
  return own.written('use').find((use) => {
    const written = textIn(use.reading, 'path');
    // Most are something else, and that takes no look at the disk.
    if (written === undefined || called(written) !== called(at) || flawOf(written) !== undefined) return false;
    if (own.find('use', use.name)?.statement !== use.statement) return false;
    const path = locate(written, sourceOf(use), env);
    return path !== undefined && env.files.real(path.at) === at;
  })?.name;
}

function open(
  use: Declared,
  from: string,
  trail: readonly Step[],
  outermost: Declared,
  prefix: string,
  env: Opening,
): Library {
  const item = use.reading.slots.path?.[0];
  const written = textIn(use.reading, 'path');
  const place = use === outermost && item ? placeOf(use.statement, item) : headPlace(outermost.statement);
  const failed = (f: Finding): Library => ({ kind: 'failed', finding: f });
  if (written === undefined) return { kind: 'opened', names: new Names(starterNames, `${prefix}${use.name}.`) };
  const flaw = flawOf(written);
  if (flaw !== undefined)
    return failed(
      finding(rules.usePath, place, `"${shownPath(written)}" ${flaw}.`, {
        advice:
          'Write a path that is relative to the folder of this file, such as "../library", or the name of an installed package.',
      }),
    );
  const path = locate(written, from, env);
  // Whatever is above everything is out where anything is.
  if (!path && env.files.isOut?.('/')) {
    return failed(
      finding(
        rules.useNotFound,
        place,
        `There is no .closet file, folder or package at "${written}" in the folders that are open, and nothing outside of them is looked at, as this workspace is not trusted.`,
        { advice: 'Trust the workspace, if you know where it comes from.' },
      ),
    );
  }
  if (!path) {
    const inside = use === outermost ? '' : ` (used by library "${trail.at(-1)?.name}")`;
    return failed(
      finding(rules.useNotFound, place, `There is no .closet file, folder or package at "${written}"${inside}.`, {
        advice: /%[0-9a-f]{2}/i.test(written)
          ? 'The path is relative to the folder of this file, and read as it is written: a percent sign stands for itself.'
          : 'The path is relative to the folder of this file.',
      }),
    );
  }
  const real = env.files.real(path.at);
  if (!path.package && !isWithin(env.files.real(env.boundary(from)), real)) {
    return failed(
      finding(
        rules.useOutside,
        place,
        `"${written}" is outside the workspace, and a project has to be whole wherever it is checked out.`,
        {
          advice:
            'Move the library into the repository, or install it as a package. Where there is no repository, the folder counts that is open or named: take one that holds both.',
        },
      ),
    );
  }
  const seen = trail.findIndex((step) => isWithin(real, step.at));
  if (seen >= 0) {
    const names = [...trail.slice(seen).map((s) => s.name), trail[seen]?.name ?? ''].map((n) => `"${n}"`);
    const message = names.length === 2 ? `${names[0]} uses itself.` : `A circle: ${names.join(' uses ')}.`;
    return failed(finding(rules.nameCircle, place, message, { advice: 'Take one `use` out of the circle.' }));
  }
  const known = env.known.get(real);
  const extent = known && extents.get(known);
  // The project itself is the first of the trail.
  if (trail.length - 1 + (extent?.deep ?? 1) > limits.deepestUse.most)
    return failed(
      tooMany('deepestUse', place, {
        who: 'This is built on',
        count: trail.length,
        isLeast: true,
        what: 'libraries that use one another',
        advice: 'Put some of them into one.',
      }),
    );
  env.opened += extent?.libraries ?? 1;
  if (env.opened > limits.mostLibraries.most)
    return failed(
      tooMany('mostLibraries', place, {
        who: 'This comes to',
        count: env.opened,
        isLeast: true,
        what: 'libraries, each counted as often as it is used',
        advice: 'Let the libraries that it uses share fewer others.',
      }),
    );
  if (known) return { kind: 'opened', names: known };
  const paths = env.files.kindOf(path.at) === 'folder' ? env.collect(path.at) : [path.at];
  if (paths.length === 0) {
    return failed(
      finding(rules.useNotFound, place, `There is no .closet file in "${written}".`, {
        advice: 'The path names a .closet file or a folder that holds some.',
      }),
    );
  }
  // What a package holds is its own, wherever it is installed; a link in it leads no further.
  const within = path.package ? packageFolder(real, env) : env.boundary(from);
  // The shortest way of calling it, wherever it is come to first.
  const names = new Names(starterNames, `${env.directly(real) ?? `${prefix}${use.name}`}.`);
  const step: Step = { at: real, name: nameOf(path.at) };
  for (const file of paths) {
    const text = env.textOf(file, within);
    if (typeof text !== 'string') return failed({ ...text(place), place });
    const source = new Source(file, text, topWords);
    for (const statement of source.statements()) names.add(statement);
    memo(sourcesOf, names, () => []).push(source);
  }
  for (const inner of names.all('use')) {
    const innerFile = paths.find((p) => sourceOf(inner) === p) ?? path.at;
    const library = open(inner, innerFile, [...trail, step], outermost, names.prefix, env);
    if (library.kind === 'failed') return library;
    names.useLibrary(inner.name, library.names);
  }
  const those = [...names.libraries.values()].flatMap((one) => extents.get(one) ?? []);
  extents.set(names, {
    at: real,
    libraries: those.reduce((sum, { libraries }) => sum + libraries, 1),
    deep: Math.max(0, ...those.map(({ deep }) => deep)) + 1,
  });
  env.known.set(real, names);
  return { kind: 'opened', names };
}

/** What the names of each library were read from. */
const sourcesOf = new WeakMap<Names, Source[]>();
const errorsOf = new WeakMap<Names, readonly Finding[]>();

export interface LibraryErrors {
  /** One of each library that has some. */
  readonly told: readonly Finding[];
  /** Those for which something cannot be read, as they are found in the libraries. */
  readonly unread: readonly Finding[];
}

/** What is wrong in the libraries that a project uses. */
export function errorsOfLibraries(names: Names, known: RuleNames): LibraryErrors {
  const told: Finding[] = [];
  const unread: Finding[] = [];
  for (const [name, library] of names.libraries) {
    const found = errorsIn(library, known);
    const [use] = names.declarations('use', name);
    if (!use || found.length === 0) continue;
    told.push(faultyLibrary(use, found));
    pushAll(
      unread,
      found.filter(({ rule }) => !ofSeveral.has(rule)),
    );
  }
  return { told, unread };
}

/** Of declarations that are right by themselves, and cannot stand together. */
const ofSeveral: ReadonlySet<Rule> = new Set([rules.nameTaken, rules.policiesContradict]);

/** Errors in what a library declares, and in what those that it uses do. Looked for once each time it is opened. */
function errorsIn(library: Names, known: RuleNames): readonly Finding[] {
  return memo(errorsOf, library, () => {
    const { settings } = settingsOf(library.declarations('project', 'project')[0], library);
    const declared = new Map([...library.everything()].map((one) => [one.statement, one]));
    const foundIn = (one: Declared): readonly Finding[] => {
      if (one.kind === 'template') return templateInfo(one).findings;
      const { findings } = computeDeclared(one, library, settings, new Trace(), known);
      return one.kind === 'policy' ? [...findings, ...contradictionsIn(one, library, known)] : findings;
    };
    const again = Map.groupBy(repeatedIn(library), ({ place }) => place.statement);
    const errorsAt = (statement: Statement): Finding[] => {
      const one = declared.get(statement);
      const all = [...read(statement, 'file').findings, ...(one ? foundIn(one) : []), ...(again.get(statement) ?? [])];
      return all.filter(({ severity }) => severity === 'error');
    };
    const found = (sourcesOf.get(library) ?? []).flatMap((source) => errorsOfSource(source, errorsAt));
    const lacking = unbraced(found);
    const own = besideUnbraced([...found, ...lacking.told], lacking);
    const inner = [...library.libraries.values()].flatMap((names) => errorsIn(names, known));
    // The same file may be come to by several ways.
    return [...new Map([...own, ...inner].map((f) => [identityOf(f), f])).values()];
  });
}

function repeatedIn(library: Names): readonly Finding[] {
  const byName = Map.groupBy(library.everything(), ({ kind, name }) => keyOf(kind, name));
  return [...byName.values()].flatMap(([one]) => (one ? repetitions(library.declarations(one.kind, one.name)) : []));
}

/** What a policy asks for, with those that it extends, that cannot be. */
function contradictionsIn(policy: Declared, library: Names, known: RuleNames): readonly Finding[] {
  const { findings } = policyInForce([policy], library, { rules: known.ruleIds, limits: known.limitNames });
  return findings.filter(({ rule }) => rule === rules.policiesContradict);
}

function identityOf({ place, message }: Finding): string {
  return `${segmentOf(place.statement).source.id} ${spanOf(place).start} ${message}`;
}

/** Of these nothing comes to whoever uses a library, so it does not matter what is wrong in them. */
const ownAffairs: ReadonlySet<string> = new Set(['project', 'unit', 'survey', 'extra', 'accept']);

function errorsOfSource(source: Source, errorsAt: (statement: Statement) => readonly Finding[]): readonly Finding[] {
  const conflict = conflictOf(source);
  if (conflict) return [conflict];
  return [...source.statements()].flatMap((one) => (ownAffairs.has(one.word.text) ? [] : errorsAt(one)));
}

/** Told at its `use`: whoever uses a library does not read it. */
function faultyLibrary(use: Declared, errors: readonly Finding[]): Finding {
  const item = use.reading.slots.path?.[0];
  const place = item ? placeOf(use.statement, item) : headPlace(use.statement);
  const message = `Library "${use.name}" has ${counted(errors.length, 'error')}; what is cut from it may be wrong.`;
  return finding(rules.libraryHasErrors, place, message, {
    advice: errors.length === 1 ? 'Mend it in the library.' : 'Mend them in the library.',
    related: errors.slice(0, mostShown).map((f) => ({ place: f.place, message: f.message })),
  });
}

/** So many errors of a library are shown where it is used. */
const mostShown = 3;

function packageFolder(real: string, { files }: LibraryFiles): string {
  return files.kindOf(real) === 'folder' ? real : parentOf(real);
}

/** In a message, where a character that moves the cursor has no place. */
function shownPath(written: string): string {
  return written.replaceAll(/\p{Cc}/gu, '\ufffd');
}

function sourceOf(declared: Declared): string {
  const node = declared.statement.parent;
  return node.kind === 'segment' ? node.source.id : '';
}

/** Relative to the file, else an installed package in a node_modules folder above it. */
function locate(
  written: string,
  from: string,
  env: LibraryFiles,
): { readonly at: string; readonly package: boolean } | undefined {
  const direct = join(parentOf(from), written.replaceAll('\\', '/'));
  for (const at of [direct, `${direct}.closet`]) {
    const kind = env.files.kindOf(at);
    if (kind === 'folder' || (kind === 'file' && at.endsWith('.closet'))) return { at, package: false };
  }
  if (!/^(@[\w.-]+\/)?[\w.-]+(\/[\w./-]+)?$/.test(written) || written.split('/').includes('..')) return undefined;
  for (let folder = parentOf(from); ; folder = parentOf(folder)) {
    const whole = join(folder, `node_modules/${written}`);
    for (const at of [whole, `${whole}.closet`]) {
      const kind = env.files.kindOf(at);
      // Nothing else in a package is ours to read.
      if (kind === 'folder' || (kind === 'file' && at.endsWith('.closet'))) return { at, package: true };
    }
    if (folder === '/' || folder === parentOf(folder)) return undefined;
  }
}
