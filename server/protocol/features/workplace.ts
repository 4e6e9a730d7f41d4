/** What an editor shows beside the texts: the project as a tree, its units by name, what the cursor stands in, a project to begin with. */
import { type Location, RequestType } from 'vscode-languageserver';
import { type Place, spanOf, topOf } from '../../../grammar/tree.ts';
import { sourceOf } from '../../language/diagnostics.ts';
import { type NewProject, type NewProjectAsked, newProject } from '../../language/new-project.ts';
import { type PlaceStatus, placeStatusAt } from '../../language/place-status.ts';
import { childNodes, nodesTo, projectNode, unitNodes, type ViewedProject } from '../../language/project-view.ts';
import type { ViewNode } from '../../language/view-node.ts';
import { nameOf } from '../../model/files.ts';
import type { LoadedProject } from '../../model/workspace.ts';
import { rangeOf } from '../convert.ts';
import { type AboutPosition, type Asking, type Feature, offsetAt } from './feature.ts';

/** A node as it is sent, with the keys that lead to it from the top. */
export interface ShownNode extends Omit<ViewNode, 'key' | 'place' | 'template' | 'survey'> {
  readonly path: readonly string[];
  readonly location?: Location | undefined;
  readonly template?: Location | undefined;
  readonly survey?: Location | undefined;
}

/** The children of a node, or the projects where no path is given; null where it is not there any more. */
export const projectViewRequest = new RequestType<{ readonly path?: readonly string[] }, ShownNode[] | null, void>(
  'storypole/projectView',
);

/** The nodes that lead to the unit or template under a position, from the top: the project alone elsewhere; null where it is not shown. */
export const projectViewPathRequest = new RequestType<AboutPosition, ShownNode[] | null, void>(
  'storypole/projectViewPath',
);

/** All units of all projects. */
export const unitsRequest = new RequestType<object, ShownNode[] | null, void>('storypole/units');

/** A status as it is sent. */
export interface ShownStatus extends Omit<PlaceStatus, 'template' | 'survey'> {
  readonly template?: Location | undefined;
  readonly survey?: Location | undefined;
}

/** The unit or the template under a position; null elsewhere. */
export const placeStatusRequest = new RequestType<AboutPosition, ShownStatus | null, void>('storypole/placeStatus');

/** The files of a small project to begin with. Nothing is written: that is for the client. */
export const newProjectRequest = new RequestType<NewProjectAsked, NewProject | null, void>('storypole/newProject');

export const workplace: Feature = {
  capabilities: {},
  add: (connection, asking) => {
    const { ask, askProjects, planOf } = asking;
    const viewed = ({ project, root, alone }: LoadedProject): ViewedProject => ({
      project,
      root,
      alone,
      plan: planOf(project),
    });
    connection.onRequest(
      projectViewRequest,
      askProjects('fresh', (projects, { path = [] }: { readonly path?: readonly string[] }) => {
        const [root, ...keys] = path;
        const shown = shownProjects(projects);
        if (root === undefined) return toldApart(shown.map((one) => shownNode(projectNode(viewed(one)), [], asking)));
        const loaded = shown.find((one) => one.root === root);
        const nodes = loaded && childNodes(viewed(loaded), keys);
        return nodes?.map((node) => shownNode(node, path, asking)) ?? null;
      }),
    );
    connection.onRequest(
      projectViewPathRequest,
      ask('fresh', (snapshot, params: AboutPosition) => {
        const loaded = shownProjects(asking.loaded()).find(({ project }) => project === snapshot.project);
        if (!loaded) return null;
        const statement = snapshot.source.statementAt(offsetAt(snapshot, params));
        const nodes = nodesTo(viewed(loaded), statement && topOf(statement));
        return nodes.map((node, depth) => {
          const above = nodes.slice(0, depth).map(({ key }) => key);
          return shownNode(node, above, asking);
        });
      }),
    );
    connection.onRequest(
      unitsRequest,
      askProjects('fresh', (projects) =>
        shownProjects(projects).flatMap((one) =>
          unitNodes(viewed(one)).map((node) => shownNode(node, [one.root], asking)),
        ),
      ),
    );
    connection.onRequest(
      placeStatusRequest,
      ask('fresh', (snapshot, params: AboutPosition) => {
        const status = placeStatusAt(snapshot, offsetAt(snapshot, params), planOf(snapshot.project));
        return status ? shownStatus(status, asking) : null;
      }),
    );
    connection.onRequest(
      newProjectRequest,
      askProjects('now', (_, asked: NewProjectAsked) => newProject(asked)),
    );
  },
};

/** In the order of their folders, whatever is looked at; a file outside any project where it holds something to build. */
function shownProjects(projects: readonly LoadedProject[]): LoadedProject[] {
  return projects
    .filter(
      ({ project, alone }) => !alone || !project.names.all('template').next().done || !project.units().next().done,
    )
    .toSorted((a, b) => (a.root < b.root ? -1 : 1));
}

/** Projects of one title say which folder they are in. */
function toldApart(nodes: ShownNode[]): ShownNode[] {
  const byLabel = Map.groupBy(nodes, ({ label }) => label);
  return nodes.map((node) => {
    if (byLabel.get(node.label)?.length === 1) return node;
    return { ...node, description: `${nameOf(node.path[0] ?? '')} · ${node.description}` };
  });
}

function shownNode(
  { key, place, template, survey, ...node }: ViewNode,
  above: readonly string[],
  asking: Pick<Asking, 'uriOfFile'>,
): ShownNode {
  return {
    ...node,
    path: [...above, key],
    location: locationOf(place, asking),
    template: locationOf(template, asking),
    survey: locationOf(survey, asking),
  };
}

function shownStatus({ template, survey, ...status }: PlaceStatus, asking: Pick<Asking, 'uriOfFile'>): ShownStatus {
  return { ...status, template: locationOf(template, asking), survey: locationOf(survey, asking) };
}

function locationOf(at: Place | undefined, { uriOfFile }: Pick<Asking, 'uriOfFile'>): Location | undefined {
  if (!at) return undefined;
  const source = sourceOf(at);
  return { uri: uriOfFile(source.id), range: rangeOf(source, spanOf(at)) };
}
