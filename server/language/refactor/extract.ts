/** What a unit says over its template as a template of its own, which extends that one. Arguments stay in the unit. */
import { type Path, type Statement, segmentOf, topOf } from '../../../grammar/tree.ts';
import type { Project, Unit } from '../../model/project.ts';
import { dotted, pathIn, readingAt } from '../../model/reading.ts';
import type { Located } from '../locate.ts';
import type { Snapshot } from '../snapshot.ts';
import { usersOf } from '../users.ts';
import { noLongerAgreed } from './agreed.ts';
import { changesBuilt } from './built.ts';
import { commentsIn, losesComment, withoutComments } from './comments.ts';
import { declaredBefore, declaredBehind, type Edit, freeTemplateName, rewritten, textEdits } from './edits.ts';
import { extending } from './extending.ts';
import { blockText, headEnd, type Piece, piecesOf, pieceText } from './pieces.ts';
import type { Refactoring } from './refactoring.ts';

export function extractTemplate({ project }: Snapshot, located: Located): Refactoring[] {
  const top = topOf(located.statement);
  const inOverride = located.trail[1]?.word.text === 'override';
  if (top.word.text !== 'unit' || !(located.statement === top || inOverride)) return [];
  const unit = project.unitAt(top);
  const drawn = unit && drawnOn(unit);
  const own = overridesOf(top);
  if (!unit || !drawn || own.length === 0) return [];
  const name = freeTemplateName(project.names, drawn.words.at(-1)?.text ?? 'template');
  const common = { kind: 'refactor.extract' as const, id: 'extract-template' };
  const said = `Make the changes of unit "${unit.name}" a template "${name}"`;
  const title = `${said}${noLongerAgreed(project, [unit], undefined)}`;
  const made = templateFor(unit, name, drawn);
  if ('why' in made) return [{ ...common, title, disabled: made.why, edits: [] }];
  const declares = declaredFor(project, unit, made.text);
  const edits = [...declares(top), ...usingInstead(top, drawn, name, 'moved')];
  const wrong = losesComment(edits) ?? changesBuilt(project, { edits, units: [unit.name] });
  if (wrong !== undefined) return [{ ...common, title, disabled: wrong, edits: [] }];
  const offers: Refactoring[] = [{ ...common, title, edits: textEdits(edits) }];
  const alike = sameIn(project, unit, name, made.key);
  if (alike.length === 0) return offers;
  const more =
    alike.length === 1 ? `and in 1 more unit with the same` : `and in ${alike.length} more units with the same`;
  const others = alike.flatMap((other) => {
    const path = drawnOn(other);
    return path ? usingInstead(other.declared.statement, path, name, 'kept') : [];
  });
  const units = [unit, ...alike].map((one) => one.name);
  if ((losesComment(others) ?? changesBuilt(project, { edits, more: others, units })) === undefined)
    offers.push({
      ...common,
      id: 'extract-template-all',
      title: `${said}, ${more}${noLongerAgreed(project, [unit, ...alike], undefined)}`,
      edits: textEdits([...edits, ...others]),
    });
  return offers;
}

function overridesOf(top: Statement): readonly Piece[] {
  return piecesOf(top).pieces.filter(({ statement }) => statement.word.text === 'override');
}

/** The template that a unit names. */
function drawnOn({ declared, info }: Unit): Path | undefined {
  return info && pathIn(declared.reading, 'template');
}

/** `key` is the same where what is said is the same, whatever is said about it in comments, and on however many lines. */
function templateFor(
  unit: Unit,
  name: string,
  drawn: Path,
): { readonly text: string; readonly key: string } | { readonly why: string } {
  const { declared, info, mirrored } = unit;
  if (!info) return { why: 'Its template is not known.' };
  const pieces = overridesOf(declared.statement);
  const found = extending(info.blueprint, pieces, mirrored);
  if ('why' in found) return found;
  const text = `template ${name} extends ${dotted(drawn)} ${found.block}`;
  return { text, key: withoutComments(text).replace(/[\s;]+/g, ' ') };
}

/** Next to the template that it extends, or before the unit where that lies outside the project. */
function declaredFor(project: Project, { info }: Unit, text: string): (top: Statement) => Edit[] {
  const base = info?.declared.statement;
  const isHere = base && project.sources.has(segmentOf(base).source.id);
  return (top) => [isHere ? declaredBehind(base, text) : declaredBefore(top, text)];
}

/** The unit without its overrides, on another template. What comments say of them has moved with them, or is kept. */
function usingInstead(top: Statement, drawn: Path, name: string, comments: 'moved' | 'kept'): Edit[] {
  const { block, text } = top;
  if (!block) return [];
  const { pieces, rest } = piecesOf(top);
  const kept = pieces.flatMap((piece) => {
    if (piece.statement.word.text !== 'override') return [pieceText(piece)];
    return comments === 'kept' ? [piece.lead, ...commentsIn(piece.statement), piece.trail].filter(Boolean) : [];
  });
  if (rest) kept.push(rest);
  const before = `${text.slice(0, drawn.start)}${name}${text.slice(drawn.end, headEnd(top))}`;
  const isLong = text.slice(block.open).includes('\n');
  return rewritten(top, kept.length === 0 ? before : `${before} ${blockText(kept, isLong)}`);
}

/** Units on the same template whose overrides say the same of it, mirrored or not. */
function sameIn(project: Project, unit: Unit, name: string, key: string): Unit[] {
  const template = unit.info?.declared.statement;
  const users = (template && usersOf(project).get(template)) ?? [];
  return users.filter((other) => {
    if (other.declared.statement === unit.declared.statement || other.info?.declared.statement !== template)
      return false;
    const path = drawnOn(other);
    if (!path || !readingAt(other.declared.statement, 'file') || overridesOf(other.declared.statement).length === 0)
      return false;
    const made = templateFor(other, name, path);
    return !('why' in made) && made.key === key;
  });
}
