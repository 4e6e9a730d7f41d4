/** Published advice on wide wardrobes and tall cabinets; looked at only where a policy treats it as something. */
import type { Finding } from '../../model/finding.ts';
import { finding } from '../../model/finding.ts';
import type { PanelLayout } from '../../model/layout.ts';
import type { Rule } from '../../model/rule.ts';
import { showLength } from '../../model/show.ts';
import { inches, subtract, ticks } from '../../model/ticks.ts';
import { type CheckInput, looked } from '../check.ts';
import { about, capital, compared, fittingsOf, fromTemplate, nameOf } from '../say.ts';
import { tallPanelStrip, wideWardrobe } from './rules.ts';

/** Architectural Woodwork Standards, edition 1, 10-4.4.17.1 and 10-4.4.18. */
const widest = inches(60);
const tallest = inches(60);

export function isAsked(rule: Rule, { policy }: CheckInput): boolean {
  const severity = policy.severities.get(rule.id);
  return severity !== undefined && severity !== 'off';
}

export function wideWardrobes(input: CheckInput): Finding[] {
  if (!isAsked(wideWardrobe, input)) return [];
  const { layout, show } = input;
  const found: Finding[] = [];
  for (const opening of layout.openings) {
    if (opening.leaf.kind !== 'sliding') continue;
    // Narrower than 60 in is fine, 60 in is not: the last tick below it is the limit.
    const limit = subtract(widest, ticks(1));
    const comparison = compared(`width of opening "${opening.name}"`, opening.width, 'at most', limit);
    const at = { path: opening.name, place: opening.place };
    if (looked(input, wideWardrobe, at, comparison, opening.width <= limit)) continue;
    found.push(
      finding(
        wideWardrobe,
        opening.place,
        `Opening "${opening.name}" with its sliding doors is ${showLength(opening.width, show)} wide; from ${showLength(widest, show)} on, published advice has an upright under the member at their head.`,
        {
          advice: 'See that an upright stands under the head of the doors, or narrow the opening.',
          about: opening.name,
          causes: fromTemplate,
          comparison,
        },
      ),
    );
  }
  return found;
}

export function tallPanels(input: CheckInput): Finding[] {
  if (!isAsked(tallPanelStrip, input)) return [];
  const panels = fittingsOf(input.layout).filter((f): f is PanelLayout => f.kind === 'panel');
  const { show } = input;
  return panels.flatMap((panel) => {
    const height = subtract(panel.box.z[1], panel.box.z[0]);
    const comparison = compared(`height of "${panel.path}"`, height, 'at most', tallest);
    if (looked(input, tallPanelStrip, panel, comparison, height <= tallest)) return [];
    return [
      about(
        tallPanelStrip,
        panel,
        panel.place,
        `${capital(nameOf(panel))} is ${showLength(height, show)} high; above ${showLength(tallest, show)}, published advice has one more strip to anchor it by, between the upper and the lower.`,
        { advice: 'Anchor it half-way up as well.', comparison },
      ),
    ];
  });
}
