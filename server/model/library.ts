/** Libraries: files outside the project, known under a name. */

import { Source } from '../../grammar/source.ts';
import { headPlace, type Place, placeOf } from '../../grammar/tree.ts';
import { type Files, isWithin, join, nameOf, parentOf } from './files.ts';
import { type Finding, finding } from './finding.ts';
import { limits } from './limits.ts';
import { type Declared, Names } from './names.ts';
import type { Library } from './project.ts';
import { textIn } from './reading.ts';
import * as rules from './rules.ts';
import { starterNames } from './starter.ts';
import { tooMany } from './too-many.ts';
import { flawOf } from './use-path.ts';
import { topWords } from './vocabulary.ts';

export interface LibraryFiles {
  readonly files: Files;
  /** A link is followed only `within` a folder. */
  readonly textOf: (path: string, within: string) => string | ((place: Place) => Finding);
  readonly collect: (folder: string) => readonly string[];
  /** The folder that a `use` in this file may not leave. */
  readonly boundary: (path: string) => string;
}

interface Opening extends LibraryFiles {
  /** How many libraries have been read so far. */
  opened: number;
}

interface Step {
  /** Folder or file, links followed. */
  readonly at: string;
  readonly name: string;
}

/** Opens the library that a `use` names. `root` is the folder of the project that uses it. */
export function openLibrary(use: Declared, from: string, root: string, env: LibraryFiles): Library {
  return open(use, from, [{ at: env.files.real(root), name: nameOf(root) || root }], use, '', { ...env, opened: 0 });
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
        { advice: 'Move the library into the repository, or install it as a package.' },
      ),
    );
  }
  const seen = trail.findIndex((step) => isWithin(real, step.at));
  if (seen >= 0) {
    const names = [...trail.slice(seen).map((s) => s.name), trail[seen]?.name ?? ''].map((n) => `"${n}"`);
    const message = names.length === 2 ? `${names[0]} uses itself.` : `A circle: ${names.join(' uses ')}.`;
    return failed(finding(rules.nameCircle, place, message, { advice: 'Take one `use` out of the circle.' }));
  }
  // The project itself is the first of the trail.
  if (trail.length > limits.deepestUse.most)
    return failed(
      tooMany('deepestUse', place, {
        who: 'This is built on',
        count: trail.length,
        isLeast: true,
        what: 'libraries that use one another',
        advice: 'Put some of them into one.',
      }),
    );
  if (++env.opened > limits.mostLibraries.most)
    return failed(
      tooMany('mostLibraries', place, {
        who: 'This comes to',
        count: env.opened,
        isLeast: true,
        what: 'libraries, each counted as often as it is used',
        advice: 'Let the libraries that it uses share fewer others.',
      }),
    );
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
  const names = new Names(starterNames, `${prefix}${use.name}.`);
  const step: Step = { at: real, name: nameOf(path.at) };
  for (const file of paths) {
    const text = env.textOf(file, within);
    if (typeof text !== 'string') return failed({ ...text(place), place });
    for (const statement of new Source(file, text, topWords).statements()) names.add(statement);
  }
  for (const inner of names.all('use')) {
    const innerFile = paths.find((p) => sourceOf(inner) === p) ?? path.at;
    const library = open(inner, innerFile, [...trail, step], outermost, names.prefix, env);
    if (library.kind === 'failed') return library;
    names.useLibrary(inner.name, library.names);
  }
  return { kind: 'opened', names };
}

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
