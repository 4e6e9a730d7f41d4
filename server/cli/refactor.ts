/** `storypole refactor FILE:LINE:COLUMN [ID]`: what an editor offers to rewrite there, listed; one of it shown or written. */
import { refactorings } from '../language/refactor/refactor.ts';
import type { Refactoring } from '../language/refactor/refactoring.ts';
import { nearest } from '../model/nearest.ts';
import type { Answer } from './answer.ts';
import { atPlace } from './at-place.ts';
import { changedBy, diffText, editsJson, write } from './changed.ts';
import { documentOf } from './json.ts';
import { type Common, sessionFor } from './session.ts';
import { Stop } from './stop.ts';
import { counted, printable } from './words.ts';

export interface RefactorOptions extends Common {
  readonly dryRun?: boolean;
}

/** Throws Stop, with the reason, where it cannot be made or a file cannot be written; then nothing has been. */
export async function refactor(written: string, id: string | undefined, options: RefactorOptions): Promise<Answer> {
  const session = sessionFor(options);
  const { snapshot, offset, projects, folderOf } = atPlace(written, session.current);
  snapshot.project.refreshNow();
  const offered = refactorings(snapshot, { start: offset, end: offset }, projects);
  if (id === undefined) {
    if (options.dryRun)
      throw new Stop(
        `--dry-run goes with the id of a refactoring; without it, storypole refactor ${written} lists them.`,
      );
    if (options.format === 'json') {
      const listed = offered.map((one) => ({ id: one.id, title: one.title, notHere: one.disabled ?? null }));
      return { status: 0, result: documentOf('refactorings', { refactorings: listed }) };
    }
    if (offered.length === 0) throw new Stop(nothingOffered(written));
    const width = Math.max(...offered.map((one) => one.id.length));
    const lines = offered.map(({ id: own, title, disabled }) => {
      const why = disabled === undefined ? '' : session.paint('dim', ` (not here: ${printable(disabled)})`);
      return `${own.padEnd(width)}  ${printable(title)}${why}\n`;
    });
    return { status: 0, result: lines };
  }
  const found = offered.find((one) => one.id === id);
  if (!found) throw new Stop(notOffered(written, id, offered));
  if (found.disabled !== undefined) throw new Stop(found.disabled);
  const changed = changedBy(found.edits, projects);
  const remark = options.dryRun ? undefined : await write(changed, { projects, folderOf }, session);
  if (options.format === 'json') {
    const edits = editsJson(changed, session);
    const { title } = found;
    return { status: 0, result: documentOf('refactor', { id, title, written: !options.dryRun, edits }), remark };
  }
  if (options.dryRun) return { status: 0, result: changed.map((one) => diffText(one, session)) };
  const lines = changed.map(({ source, edits }) => `  ${printable(session.pathOf(source.id))}: ${edits.length}`);
  const places = `${counted(found.edits.length, 'place')} of ${counted(changed.length, 'file')}`;
  return { status: 0, result: [`${printable(found.title)}: done in ${places}:\n${lines.join('\n')}\n`], remark };
}

function nothingOffered(written: string): string {
  return `Nothing is offered at ${written}. Ask at the name of a unit or template, at a number, or at a length.`;
}

function notOffered(written: string, id: string, offered: readonly Refactoring[]): string {
  const ids = [...new Set(offered.map((one) => one.id))];
  if (ids.length === 0) return nothingOffered(written);
  const near = nearest(id, ids);
  const hint = near ? ` Did you mean "${near}"?` : ` There is ${ids.join(', ')}.`;
  return `"${id}" is not offered at ${written}.${hint}`;
}
