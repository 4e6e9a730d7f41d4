/**
 * A project as a tree for people: floors with their units, templates with theirs, findings by severity and rule,
 * what surveys do to units, stock with what the plan takes of it. Only the children of one branch are made at a time, and no branch has more
 * children than can be looked through: long lists are shown in ranges.
 */
import { headPlace, type Statement } from '../../grammar/tree.ts';
import { counted } from '../model/money.ts';
import type { Project } from '../model/project.ts';
import { dotted, pathIn, readingAt } from '../model/reading.ts';
import { exceptionsBranches } from './exceptions-view.ts';
import { findingsBranch } from './findings-view.ts';
import type { Made } from './made-plan.ts';
import { indexOf, tallyOf, told, worstOf } from './project-index.ts';
import { stockBranches, stockSummary } from './stock-view.ts';
import { countOf, floorsBranch, templatesBranch, unitBranches } from './units-view.ts';
import type { Branch, ViewNode } from './view-node.ts';

export interface ViewedProject {
  readonly project: Project;
  /** The folder it is in, or its one file. */
  readonly root: string;
  readonly alone: boolean;
  readonly plan: Made;
}

/** The project itself. */
export function projectNode(viewed: ViewedProject): ViewNode {
  return nodeOf(projectBranch(viewed));
}

/** What is under a branch, by the keys that lead there from the project; undefined where it is not there any more. */
export function childNodes(viewed: ViewedProject, path: readonly string[]): ViewNode[] | undefined {
  let branch: Branch | undefined = projectBranch(viewed);
  for (const key of path) branch = branch?.children?.().find((child) => child.key === key);
  return branch && (branch.children?.() ?? []).map(nodeOf);
}

/**
 * The nodes that lead from the project to what a statement at the top of a file declares, the project first: to a unit,
 * from its survey as well, or to a template. The project alone where it declares neither.
 */
export function nodesTo(viewed: ViewedProject, top: Statement | undefined): ViewNode[] {
  const { project } = viewed;
  const reading = top && readingAt(top, 'file');
  const measured = reading?.word === 'survey' ? pathIn(reading, 'unit') : undefined;
  const goal = measured ? project.names.find('unit', dotted(measured))?.statement : top;
  const floor = goal && `floor ${project.unitAt(goal)?.floor ?? ''}`;
  const whole = goal?.word.text === 'template' ? 'templates' : 'floors';
  const lead = (branch: Branch): Branch[] | undefined => {
    if (branch.kind === 'unit' || branch.kind === 'template')
      return branch.place?.statement === goal ? [branch] : undefined;
    const leads = branch.kind === 'project' || branch.key === whole || branch.key === floor || branch.kind === 'range';
    for (const child of (leads && branch.children?.()) || []) {
      const rest = lead(child);
      if (rest) return [branch, ...rest];
    }
    return undefined;
  };
  const root = projectBranch(viewed);
  return ((goal && lead(root)) ?? [root]).map(nodeOf);
}

/** Every unit, for choosing one by its name. */
export function unitNodes({ project, plan }: ViewedProject): ViewNode[] {
  const index = indexOf(project, plan.findings);
  return unitBranches(index.units, index).map(nodeOf);
}

function nodeOf({ children, ...node }: Branch): ViewNode {
  return { ...node, hasChildren: children !== undefined };
}

function projectBranch({ project, root, alone, plan }: ViewedProject): Branch {
  const index = indexOf(project, plan.findings);
  const { findings, units } = index;
  const tally = tallyOf(findings);
  const [declared] = project.names.declarations('project', 'project');
  const name = root.slice(root.lastIndexOf('/') + 1);
  const said = [counted(countOf(units), 'unit'), ...told(tally)].join(', ');
  return {
    key: root,
    kind: 'project',
    label: project.settings.title === '' ? name : project.settings.title,
    description: said,
    tooltip: [root, said, ...(alone ? ['A file outside any project: it is checked by itself.'] : [])].join('\n'),
    severity: worstOf(tally),
    place: declared && headPlace(declared.statement),
    children: () => [
      floorsBranch(index),
      templatesBranch(project, index),
      findingsBranch(index, tally),
      ...exceptionsBranches(project, index),
      {
        key: 'stock',
        kind: 'stock',
        label: 'Stock',
        ...stockSummary(project, plan),
        children: () => stockBranches(project, plan),
      },
    ],
  };
}
