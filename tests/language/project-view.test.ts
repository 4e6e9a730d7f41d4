/** A project as a tree, written as people see it: a line a node, what it says behind it. */
import { describe, expect, it } from 'vitest';
import { planProject } from '../../server/checks/analysis.ts';
import { optimal } from '../../server/cutting/optimal.ts';
import { type Made, noPlan } from '../../server/language/made-plan.ts';
import { childNodes, nodesTo, projectNode, unitNodes, type ViewedProject } from '../../server/language/project-view.ts';
import type { ViewNode } from '../../server/language/view-node.ts';
import { mostChildren } from '../../server/language/view-rows.ts';
import type { Project } from '../../server/model/project.ts';
import { manyUnits } from '../bench/texts.ts';
import { projectOf, workspaceOf } from '../model/support.ts';

const linen = `template linen {
  parameter width: length = 36in from 30in to 42in
  wall back { length width; height 96in }
  board white-16
  zone main on back { width fill; shelf top { at 72in } }
}
`;

function viewed(project: Project, plan: Made = noPlan): ViewedProject {
  return { project, root: '/p', alone: false, plan };
}

function planned(project: Project): Made {
  const { demand, plan, findings } = planProject(project, optimal);
  return { findings, state: 'current', cutting: plan && { demand, plan } };
}

/** What is under a branch, each as `label | description`. */
function rows(view: ViewedProject, ...path: string[]): string[] {
  const nodes = childNodes(view, path);
  if (!nodes) throw new Error(`there is no ${path.join(', ')}`);
  return nodes.map(({ label, description }) => `${label} | ${description}`);
}

function child(view: ViewedProject, key: string, ...above: string[]): ViewNode {
  const found = childNodes(view, above)?.find((node) => node.key === key);
  if (!found) throw new Error(`there is no ${key}`);
  return found;
}

function textAt({ place }: ViewNode): string | undefined {
  return place?.statement.text.slice(place.start, place.end).trim();
}

describe('the project view', () => {
  const text = `${linen}
template spare { wall back { length 20in; height 96in } }
unit A-10 linen { floor 10; flat A-10 }
unit A-2 linen mirrored { floor 2; flat A-2; count 3 }
unit A-3 linen { width 29in }
survey A-10 { wall back { length 35-7/8in at 72in } }
`;
  const view = viewed(projectOf(text));

  it('begins with the project, its units with their counts, and what is found', () => {
    const root = projectNode(view);
    expect(root).toMatchObject({ label: 'Quarry Lane', severity: 'error', hasChildren: true });
    expect(root.description).toMatch(/^5 units, 1 error\b/);
    expect(textAt(root)).toBe('project "Quarry Lane"');
    expect(rows(view).map((row) => row.split(' | ')[0])).toEqual([
      'Floors',
      'Templates',
      'Findings',
      'Measured units',
      'Stock',
    ]);
  });

  it('orders floors as people count, and puts units that state none last', () => {
    expect(rows(view, 'floors')).toEqual(['Floor 2 | 3 units', 'Floor 10 | 1 unit', 'No floor stated | 1 unit']);
    expect(child(view, 'floor ', 'floors').severity).toBe('error');
  });

  it('shows a unit with its template, its number, and the worst finding; it leads to its statement', () => {
    expect(rows(view, 'floors', 'floor 2')).toEqual(['A-2 | linen, mirrored · 3 alike']);
    const measured = child(view, 'unit A-10', 'floors', 'floor 10');
    expect(measured.description).toMatch(/^linen, measured/);
    expect(textAt(measured)).toBe('unit A-10 linen');
    expect(measured.template?.statement.text).toMatch(/^template linen/);
    expect(measured.survey?.statement.text).toMatch(/^survey A-10/);
    const wrong = child(view, 'unit A-3', 'floors', 'floor ');
    expect(wrong).toMatchObject({ severity: 'error', hasChildren: true });
    expect(wrong.template?.statement.text).toMatch(/^template linen/);
    expect(wrong.survey).toBeUndefined();
    expect(childNodes(view, ['floors', 'floor ', 'unit A-3'])?.[0]).toMatchObject({
      kind: 'finding',
      severity: 'error',
    });
  });

  it('counts the units of each template, and lists them under it', () => {
    expect(rows(view, 'templates').map((row) => row.replace(/ · .*/, ''))).toEqual([
      'linen | 5 units',
      'spare | no unit',
    ]);
    expect(rows(view, 'templates', 'template linen').map((row) => row.split(' | ')[0])).toEqual(['A-10', 'A-2', 'A-3']);
    expect(child(view, 'template spare', 'templates').hasChildren).toBe(false);
  });

  it('shows findings by severity, then by rule', () => {
    expect(rows(view, 'findings')[0]).toBe('Errors | 1');
    expect(rows(view, 'findings', 'error')).toEqual(['A value is out of its range | argument-out-of-range · 1']);
    const [finding] = childNodes(view, ['findings', 'error', 'argument-out-of-range']) ?? [];
    expect(finding).toMatchObject({ kind: 'finding', severity: 'error', description: 'main.closet' });
    expect(finding?.tooltip).toContain('argument-out-of-range');
    expect(finding && textAt(finding)).toContain('29in');
  });

  it('says of a branch that is not there that it is not', () => {
    expect(childNodes(view, ['floors', 'floor 7'])).toBeUndefined();
    expect(childNodes(view, ['floors', 'floor 2', 'unit A-2', 'finding 9'])).toBeUndefined();
    expect(childNodes(view, ['what'])).toBeUndefined();
  });

  it('counts a finding of a template for each unit that it reaches', () => {
    const high = viewed(projectOf(`${linen.replace('at 72in', 'at 97in')}unit a linen\nunit b linen\n`));
    expect(child(high, 'unit a', 'floors').severity).toBe('error');
    expect(child(high, 'unit b', 'floors').severity).toBe('error');
    expect(child(high, 'template linen', 'templates').severity).toBe('error');
  });

  it('shows units at once where none states a floor, and those declared twice apart', () => {
    const twice = viewed(projectOf(`${linen}unit a linen\nunit a linen\n`));
    expect(childNodes(twice, ['floors'])?.map(({ key }) => key)).toEqual(['unit a', 'unit a (2)']);
  });

  it('holds up where nothing is declared and where nothing can be read', () => {
    for (const text of ['', '}}}}', 'unit', 'unit a', 'template', 'stock', 'survey x {', 'unit a b { floor }']) {
      const one = viewed(projectOf(text));
      const all: string[] = [];
      const walk = (path: string[]): void => {
        for (const node of childNodes(one, path) ?? []) {
          all.push(node.label);
          walk([...path, node.key]);
        }
      };
      walk([]);
      expect(all, text).toContain('Stock');
    }
  });
});

describe('stock in the project view', () => {
  const stock = `project "Quarry Lane" { kerf 1/8in; saw-step 1/16in; currency EUR }
board oak { depth 12in; thickness 3/4in }
board ash { depth 12in; thickness 3/4in }
rod chrome { diameter 1-1/4in }
stock oak { length 8ft price 10 EUR count 9; length 12ft price 16 EUR unlimited; offcut 50in count 1 }
template t { wall back { length 45in; height 96in }; board oak; zone a on back { width fill; shelf s { at 40in } } }
unit u t { count 4 }
extra poles { rod chrome; length 30in; count 2 }
`;
  const project = workspaceOf({ '/p/project.closet': stock }).projectOf('/p/project.closet')?.project as Project;

  it('says before a plan is made what there is', () => {
    const view = viewed(project, { findings: [], state: 'planning' });
    expect(rows(view).at(-1)).toBe('Stock | a plan is being made');
    expect(rows(view, 'stock', 'material oak')).toEqual([
      '96in | 9 lengths · 10.00 EUR each',
      '144in | unlimited · 16.00 EUR each',
      '50in offcut | 1 offcut',
    ]);
  });

  it('says what the plan takes of each length', () => {
    // By hand: four shelves of 45 in; one comes from the offcut, three with their cuts from 12 ft for 16 EUR.
    const view = viewed(project, planned(project));
    expect(rows(view, 'stock')).toEqual([
      'ash | nothing is cut from it',
      'chrome | no stock is declared',
      'oak | 2 boards, 16.00 EUR',
    ]);
    expect(rows(view, 'stock', 'material oak')).toEqual([
      '96in | takes 0 of 9 lengths · 10.00 EUR each',
      '144in | takes 1 (unlimited) · 16.00 EUR each',
      '50in offcut | takes 1 of 1 offcut',
    ]);
    expect(textAt(child(view, 'material oak', 'stock'))).toBe('board oak');
    expect(textAt(child(view, 'length 0', 'stock', 'material oak'))).toContain('length 8ft');
  });
});

describe('a building of ten thousand units', () => {
  const text = manyUnits(50_000);
  const workspace = workspaceOf({ '/p/project.closet': text });
  const project = workspace.projectOf('/p/project.closet')?.project as Project;
  const view = viewed(project);

  it('has no branch with more rows than can be looked through, and every unit is in one of them', () => {
    const found: string[] = [];
    const walk = (path: string[]): void => {
      const nodes = childNodes(view, path) ?? [];
      expect(nodes.length).toBeLessThanOrEqual(mostChildren);
      for (const { key, kind, label } of nodes) {
        if (kind === 'unit') found.push(label);
        else walk([...path, key]);
      }
    };
    walk(['floors']);
    expect(found.length).toBeGreaterThan(9_900);
    expect(new Set(found)).toEqual(new Set(unitNodes(view).map(({ label }) => label)));
  });

  it('makes one branch and not the others: opening a range asks for no more than its units', () => {
    const [floor] = childNodes(view, ['floors']) ?? [];
    const [range] = childNodes(view, ['floors', floor?.key ?? '']) ?? [];
    expect(range?.kind).toBe('range');
    expect(range?.label).toMatch(/^u0 to u\d+$/);
    expect(childNodes(view, ['floors', floor?.key ?? '', range?.key ?? ''])).toHaveLength(mostChildren);
  });
});

describe('the way to a row', () => {
  const text = `${linen}unit A-10 linen { floor 10 }\nunit A-2 linen { floor 2 }\nunit loose linen\nsurvey A-2 { wall back { length 35in at 72in } }\n`;
  const keysTo = (project: Project, words: string): string[] => {
    const source = project.sources.get('/p/main.closet');
    const top = [...(source?.statements() ?? [])].find((statement) => statement.text.includes(words));
    return nodesTo(viewed(project), top).map(({ key }) => key);
  };

  it('leads to a unit through its floor, from its survey as well, and to a template', () => {
    const project = projectOf(text);
    expect(keysTo(project, 'unit A-10')).toEqual(['/p', 'floors', 'floor 10', 'unit A-10']);
    expect(keysTo(project, 'survey A-2')).toEqual(['/p', 'floors', 'floor 2', 'unit A-2']);
    expect(keysTo(project, 'unit loose')).toEqual(['/p', 'floors', 'floor ', 'unit loose']);
    expect(keysTo(project, 'template linen')).toEqual(['/p', 'templates', 'template linen']);
  });

  it('ends at the project where there is nothing of its own, and goes through ranges where there are many', () => {
    expect(keysTo(projectOf(text), 'not there')).toEqual(['/p']);
    expect(keysTo(projectOf('board oak { thickness 3/4in }\n'), 'board oak')).toEqual(['/p']);
    const many = Array.from({ length: mostChildren + 5 }, (_, n) => `unit u-${n} linen`).join('\n');
    expect(keysTo(projectOf(`${linen}${many}\n`), `u-${mostChildren + 3} `)).toEqual([
      '/p',
      'floors',
      `range ${mostChildren}`,
      `unit u-${mostChildren + 3}`,
    ]);
  });

  it('is one that the tree has, row by row', () => {
    const project = projectOf(text);
    const nodes = nodesTo(viewed(project), [...(project.sources.get('/p/main.closet')?.statements() ?? [])][1]);
    nodes.slice(1).forEach((node, at) => {
      const above = nodes.slice(1, at + 1).map(({ key }) => key);
      expect(childNodes(viewed(project), above)?.map(({ key }) => key)).toContain(node.key);
    });
    expect(nodes).toHaveLength(4);
  });
});
