/** Everything that can be asked of a file, at places that a case chooses. Nothing of it may throw, whatever is written. */
import { quickFixesAt } from '../../../server/language/actions.ts';
import { completionsAt, waitsForValues } from '../../../server/language/completion.ts';
import { cutListAt } from '../../../server/language/cut-list.ts';
import { definitionAt } from '../../../server/language/definition.ts';
import { drawingAt } from '../../../server/language/drawing/drawing.ts';
import { fixAll, rulesWithMore } from '../../../server/language/fix-all.ts';
import { hoverAt } from '../../../server/language/hover.ts';
import { noPlan } from '../../../server/language/made-plan.ts';
import { placeStatusAt } from '../../../server/language/place-status.ts';
import { childNodes, projectNode, unitNodes } from '../../../server/language/project-view.ts';
import { refactorings } from '../../../server/language/refactor/refactor.ts';
import { highlightsAt, referencesAt } from '../../../server/language/references.ts';
import { renameAt, renameableAt } from '../../../server/language/rename.ts';
import { selectionsAt } from '../../../server/language/selection.ts';
import { signatureAt } from '../../../server/language/signature.ts';
import type { Snapshot, TextEdit } from '../../../server/language/snapshot.ts';
import { allUsedFrom, allUsersOf, templateOrUnitAt } from '../../../server/language/template-use.ts';
import { typeDefinitionsAt } from '../../../server/language/type-definition.ts';
import type { Project } from '../../../server/model/project.ts';
import type { LoadedProject } from '../../../server/model/workspace.ts';
import { anyBit } from '../mutate.ts';
import type { Random } from '../random.ts';
import { holds } from '../target.ts';

/** In a drawing a sign of numbers gone wrong, unless something is named like this. */
const noNumber = /NaN|Infinity|undefined/;

/** Asks everything at some places of a file; all edits that are offered fit the files that they are for. */
export function askAt(snapshot: Snapshot, offset: number, random: Random): void {
  const { project, source } = snapshot;
  const { length } = source;
  hoverAt(snapshot, offset);
  for (const { label } of completionsAt(snapshot, offset))
    holds('a completion has a name', label !== '', () => source.text);
  waitsForValues(snapshot, offset);
  signatureAt(snapshot, offset);
  definitionAt(snapshot, offset);
  typeDefinitionsAt(snapshot, offset);
  for (const { source: other, start, end } of referencesAt(snapshot, offset))
    within('a reference', start, end, other.length);
  highlightsAt(snapshot, offset);
  renameableAt(snapshot, offset);
  const renamed = renameAt(snapshot, offset, random.chance(0.5) ? 'fresh' : anyBit(random, [source.text]));
  if (renamed.kind === 'renamed') fits('a rename', project, renamed.edits);
  let inner: { start: number; end: number } | undefined;
  for (const range of selectionsAt(snapshot, offset)) {
    within('a selection', range.start, range.end, length);
    if (inner)
      holds('selections grow', range.start <= inner.start && range.end >= inner.end, () =>
        JSON.stringify([inner, range]),
      );
    inner = range;
  }
  templateOrUnitAt(snapshot, offset);
  allUsersOf(snapshot, offset);
  allUsedFrom(snapshot, offset);
  cutListAt(snapshot, offset);
  placeStatusAt(snapshot, offset, noPlan);
  const drawing = drawingAt(snapshot, offset, { width: 300, height: 200 });
  holds(
    'a drawing has numbers in it',
    !noNumber.test(drawing?.sheet?.svg ?? '') || [...project.sources.values()].some(({ text }) => noNumber.test(text)),
    () => drawing?.sheet?.svg ?? '',
  );
  const fixes = quickFixesAt(snapshot, { start: offset, end: Math.min(length, offset + 40) });
  for (const { edits, title } of fixes) fits(`a fix (${title.replace(/".*?"|[\d/-]+/g, '…')})`, project, edits);
  for (const more of rulesWithMore(snapshot, new Set(fixes.map(({ finding }) => finding.rule.id))))
    fits('all fixes of a rule', project, fixAll(snapshot, more));
  for (const { id, disabled, edits } of refactorings(snapshot, { start: offset, end: offset }))
    if (disabled === undefined) fits(id, project, edits);
}

/** The tree of a project, two levels down from its root. */
export function lookThrough({ project, root, alone }: LoadedProject): void {
  const viewed = { project, root, alone, plan: noPlan };
  projectNode(viewed);
  unitNodes(viewed);
  for (const { key } of childNodes(viewed, []) ?? [])
    for (const { key: inner } of (childNodes(viewed, [key]) ?? []).slice(0, 5)) childNodes(viewed, [key, inner]);
}

function within(what: string, start: number, end: number, length: number): void {
  holds(`${what} lies in its file`, 0 <= start && start <= end && end <= length, () => `${start}-${end} of ${length}`);
}

/** Edits of one file do not overlap, and lie in it. */
export function fits(what: string, { sources }: Project, edits: readonly TextEdit[]): void {
  for (const [file, own] of Map.groupBy(edits, (edit) => edit.file)) {
    const source = sources.get(file);
    if (!source) continue;
    let at = 0;
    for (const { start, end } of [...own].sort((a, b) => a.start - b.start || a.end - b.end)) {
      within(what, start, end, source.length);
      holds(`${what}: edits do not overlap`, start >= at, () => JSON.stringify(own));
      at = end;
    }
  }
}
