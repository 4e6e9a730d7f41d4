/** `storypole outline` and `links`: what is in a file, and which files it uses. */
import type { Source } from '../../grammar/source.ts';
import { type Library, librariesOf } from '../language/links.ts';
import { type Outlined, symbolsOf } from '../language/symbols.ts';
import type { Project } from '../model/project.ts';
import type { Answer } from './answer.ts';
import { spotIn } from './at-place.ts';
import { at } from './finding-text.ts';
import { documentOf, type PathOf, rangeJson } from './json.ts';
import { each } from './json-text.ts';
import type { Spot } from './located.ts';
import { type Common, type Session, sessionFor } from './session.ts';
import { chooseUncomputed, filesOf } from './targets.ts';
import { counted, printable } from './words.ts';

interface Opened {
  readonly project: Project;
  readonly source: Source;
}

/** The declarations of each file with the things in them. */
export function outline(paths: readonly string[], options: Common): Answer {
  const session = sessionFor(options);
  const files = filesIn(paths, session);
  if (options.format === 'json') {
    const listed = each(files, (one) => ({
      file: session.pathOf(one.source.id),
      symbols: outlineOf(one).map((symbol) => outlinedJson(symbol, one.source, session.pathOf)),
    }));
    return { status: 0, result: documentOf('outline', { files: listed }) };
  }
  return { status: 0, result: outlineLines(files, session) };
}

function outlineOf({ project, source }: Opened): Outlined[] {
  return symbolsOf({ project, source, path: source.id });
}

function* outlineLines(files: readonly Opened[], { pathOf, paint }: Session): Generator<string> {
  let between = '';
  for (const one of files) {
    yield `${between}${paint('bold', printable(pathOf(one.source.id)))}\n`;
    const lines = function* (symbols: readonly Outlined[], indent: string): Generator<string> {
      for (const { head, children, selection } of symbols) {
        const { line, column } = one.source.positionAt(selection.start);
        const place = `${line + 1}:${column + 1}`.padEnd(placeWidth);
        yield `  ${paint('dim', place)} ${indent}${printable(head)}\n`;
        yield* lines(children, `${indent}  `);
      }
    };
    yield* lines(outlineOf(one), '');
    between = '\n';
  }
}

/** `1234:56`. */
const placeWidth = 7;

function outlinedJson(
  { word, name, detail, selection, children, ...range }: Outlined,
  source: Source,
  pathOf: PathOf,
): object {
  return {
    word,
    name,
    detail,
    range: rangeJson(spotIn(source, range), pathOf),
    selection: rangeJson(spotIn(source, selection), pathOf),
    children: children.map((child) => outlinedJson(child, source, pathOf)),
  };
}

/** Every `use` that leads somewhere, with the files of its library. */
export function links(paths: readonly string[], options: Common): Answer {
  const session = sessionFor(options);
  const found = filesIn(paths, session).flatMap(({ project, source }) =>
    librariesOf({ project, source, path: source.id }).map((library) => ({ library, spot: spotIn(source, library) })),
  );
  const remark =
    found.length === 0 ? 'No library is used here, or none that could be opened; storypole check says why.' : undefined;
  if (options.format === 'json') {
    const listed = found.map(({ library: { alias, written, main, files }, spot }) => ({
      alias,
      path: written,
      range: rangeJson(spot, session.pathOf),
      opens: session.pathOf(main),
      files: files.map(session.pathOf),
    }));
    return { status: 0, result: documentOf('links', { links: listed }), remark };
  }
  return { status: 0, result: found.map((one) => linkText(one, session)), remark };
}

function linkText({ library, spot }: { readonly library: Library; readonly spot: Spot }, session: Session): string {
  const { alias, written, files } = library;
  const title = `${session.paint('bold', at(spot, session))} use "${printable(written)}" as ${alias}, ${counted(files.length, 'file')}:\n`;
  return `${title}${files.map((file) => `  ${printable(session.pathOf(file))}\n`).join('')}`;
}

/** The chosen files in their order; names are known, and nothing else is computed. */
function filesIn(paths: readonly string[], { current }: Session): Opened[] {
  return chooseUncomputed(paths, current).flatMap((chosen) => {
    const { project } = chosen;
    project.refresh().next();
    return filesOf(chosen).flatMap((file) => {
      const source = project.sources.get(file);
      return source ? [{ project, source }] : [];
    });
  });
}
