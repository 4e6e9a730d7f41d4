/**
 * Findings made a moment ago, brought to the text as it is now. An edit gives the declaration it touches
 * a new tree; a place in the old one is found again by what stands there, until the finding is made anew.
 */
import { headPlace, offsetOf, type Place, type Statement, sliceOf, topOf } from '../../grammar/tree.ts';
import type { Finding } from '../model/finding.ts';
import type { DeclaredKind } from '../model/names.ts';
import type { Project } from '../model/project.ts';
import { sourceOf } from './diagnostics.ts';

/** The same finding where nothing moved; undefined where the place it sits on is gone. */
export function carried(project: Project, finding: Finding): Finding | undefined {
  const place = carriedPlace(project, finding.place);
  if (!place) return undefined;
  let same = place === finding.place;
  const related = finding.related.flatMap((r) => {
    const moved = carriedPlace(project, r.place);
    same &&= moved === r.place;
    return moved ? [{ ...r, place: moved }] : [];
  });
  return same ? finding : { ...finding, place, related };
}

function carriedPlace(project: Project, place: Place): Place | undefined {
  if (stands(project, topOf(place.statement))) return place;
  const statement = twinOf(project, place.statement);
  if (!statement) return undefined;
  const same = sliceOf(statement, place) === sliceOf(place.statement, place);
  return same ? { ...place, statement } : headPlace(statement);
}

/** Whether a top-level statement is still part of its file. What is in no file of the project is not asked about. */
function stands(project: Project, top: Statement): boolean {
  const source = sourceOf({ statement: top, start: 0, end: 0 });
  const file = project.sources.get(source.id);
  if (!file) return true;
  const found = file === source ? file.statementAt(offsetOf(top)) : undefined;
  return found !== undefined && topOf(found) === top;
}

/** What stands now for a statement that was replaced. */
function twinOf(project: Project, old: Statement): Statement | undefined {
  const { parent } = old;
  if (parent.kind === 'statement') return likeIn(twinOf(project, parent)?.block?.children ?? [], old);
  const kind = old.word.text as DeclaredKind;
  return likeIn(
    project.names.written(kind).map((d) => d.statement),
    old,
  );
}

/** The statement of the same word about the same thing. */
function likeIn(statements: readonly Statement[], old: Statement): Statement | undefined {
  return statements.find((s) => s.word.text === old.word.text && subjectOf(s) === subjectOf(old));
}

function subjectOf(statement: Statement): string {
  const [first] = statement.items;
  return first ? sliceOf(statement, first) : '';
}
