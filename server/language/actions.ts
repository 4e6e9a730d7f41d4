/** Quick fixes: the changes that findings carry and that hold, as edits of files. */
import { type Range, spanOf } from '../../grammar/tree.ts';
import { fixesThatHold } from '../checks/alternatives.ts';
import { inTextOrder } from '../checks/analysis.ts';
import { obvious } from '../checks/mending.ts';
import type { Finding } from '../model/finding.ts';
import { editsOfFix } from '../model/fix-edits.ts';
import { sourceOf } from './diagnostics.ts';
import { type Made, noPlan } from './made-plan.ts';
import type { Snapshot, TextEdit } from './snapshot.ts';

export interface QuickFix {
  readonly title: string;
  readonly finding: Finding;
  readonly edits: readonly TextEdit[];
  /** The only way that is offered to mend it, and looked at in all that it touches. */
  readonly preferred: boolean;
}

/** What the findings that a stretch of the file touches offer to change; those of the cutting plan come beside, where it is current. */
export function quickFixesAt({ project, source }: Snapshot, { start, end }: Range, ofPlan: Made = noPlan): QuickFix[] {
  const fixes: QuickFix[] = [];
  const known = new Set<string>();
  const planned = ofPlan.state === 'current' ? ofPlan.findings : [];
  const here = [...project.findings(), ...planned].filter(({ place }) => {
    if (sourceOf(place) !== source) return false;
    const at = spanOf(place);
    return at.end >= start && at.start <= end;
  });
  for (const finding of inTextOrder(here)) {
    const held = fixesThatHold(project, finding);
    const preferred = obvious(project, finding, held);
    for (const fix of held) {
      const { title } = fix;
      const made = editsOfFix(fix);
      // Several units can meet one mistake of their template, which is mended once.
      const key = `${title} ${made.map((e) => `${e.file} ${e.start} ${e.end} ${e.text}`).join(' ')}`;
      if (known.has(key)) continue;
      known.add(key);
      fixes.push({ title, finding, edits: made, preferred: fix === preferred });
    }
  }
  return fixes;
}
