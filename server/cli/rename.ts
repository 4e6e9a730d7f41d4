/** `storypole rename FILE:LINE:COLUMN NAME`: the edits that an editor would make, shown or written. */
import { renameAt, renameableAt } from '../language/rename.ts';
import type { Answer } from './answer.ts';
import { atPlace } from './at-place.ts';
import { changedBy, diffText, editsJson, write } from './changed.ts';
import { documentOf } from './json.ts';
import { type Common, sessionFor } from './session.ts';
import { Stop } from './stop.ts';
import { counted, printable } from './words.ts';

export interface RenameOptions extends Common {
  readonly dryRun?: boolean;
}

/** Throws Stop, with the reason, where it is refused or a file cannot be written; then nothing has been. */
export async function rename(written: string, typed: string, options: RenameOptions): Promise<Answer> {
  const name = typed.trim();
  const session = sessionFor(options);
  const { snapshot, offset, projects, folderOf } = atPlace(written, session.current);
  const found = renameableAt(snapshot, offset);
  if (found.kind === 'refused') throw new Stop(found.why);
  const result = renameAt(snapshot, offset, name, projects);
  if (result.kind === 'refused') throw new Stop(result.why);
  const changed = changedBy(result.edits, projects);
  const remark = options.dryRun ? undefined : await write(changed, { projects, folderOf }, session);
  if (options.format === 'json') {
    const edits = editsJson(changed, session);
    return {
      status: 0,
      result: documentOf('rename', { from: found.name, to: name, written: !options.dryRun, edits }),
      remark,
    };
  }
  if (options.dryRun) return { status: 0, result: changed.map((one) => diffText(one, session)) };
  const places = counted(result.edits.length, 'place');
  const lines = changed.map(({ source, edits }) => `  ${printable(session.pathOf(source.id))}: ${edits.length}`);
  const title =
    changed.length === 0
      ? `"${found.name}" is its name already; nothing was changed.`
      : `"${found.name}" is "${name}" now, in ${places} of ${counted(changed.length, 'file')}:`;
  return { status: 0, result: [`${[title, ...lines].join('\n')}\n`], remark };
}
