/** `storypole plan`: which board or rod each part comes from, for the whole project. */
import { type Planned, planProject } from '../checks/analysis.ts';
import type { Answer } from './answer.ts';
import { planCsv } from './csv.ts';
import { findingTexts } from './finding-text.ts';
import { documentOf } from './json.ts';
import { planJson } from './json-plan.ts';
import { each } from './json-text.ts';
import { findingsOf, type LocatedFinding } from './located.ts';
import { planText } from './plan-text.ts';
import { doNotCut, type Judging, type Session, sessionFor, statusOf } from './session.ts';
import { type Chosen, choose } from './targets.ts';
import { printable } from './words.ts';

interface Made {
  readonly chosen: Chosen;
  readonly planned: Planned;
  readonly findings: readonly LocatedFinding[];
}

/** A part of a project has no plan of its own: boards are shared by the whole. */
export async function plan(paths: readonly string[], options: Judging): Promise<Answer> {
  const session = sessionFor(options);
  const made = choose(paths, session.current).map((named): Made => {
    const chosen = { ...named, files: undefined };
    const planned = planProject(chosen.project);
    return { chosen, planned, findings: findingsOf(chosen, planned.findings) };
  });
  const findings = made.flatMap((one) => one.findings);
  return {
    status: statusOf(findings, options.failOn),
    result: await written(made, options, session),
    // The text says it itself.
    remark: options.format === 'text' ? undefined : doNotCut(findings),
  };
}

async function written(made: readonly Made[], { format }: Judging, session: Session): Promise<Iterable<string>> {
  switch (format) {
    case 'json':
      return documentOf('plan', {
        projects: each(made, ({ chosen, planned, findings }) => planJson(chosen, planned, findings, session.pathOf)),
      });
    case 'csv':
      return planCsv(made);
    case 'text':
      return [(await Promise.all(made.map((one) => asText(one, session)))).join('\n')];
  }
}

async function asText({ chosen, planned, findings }: Made, session: Session): Promise<string> {
  const { settings } = chosen.project;
  const title = settings.title === '' ? session.pathOf(chosen.root) : settings.title;
  const parts = [session.paint('bold', `Cutting plan: ${printable(title)}`)];
  const caution = doNotCut(findings);
  if (caution !== undefined) parts.push(session.paint('red', caution));
  parts.push(planText(planned, settings, session.paint).trimEnd());
  const about = findings.filter(({ finding }) => finding.rule.family === 'stock');
  parts.push(...(await findingTexts(about, session)));
  return `${parts.join('\n\n')}\n`;
}
