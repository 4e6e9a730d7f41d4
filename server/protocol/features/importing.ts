/** Tables from site into the surveys of a project: read here, shown and written by the client. */
import { RequestType } from 'vscode-languageserver';
import { type Feature, onceAsked } from './feature.ts';
import type { ImportAnswer, ImportAsked } from './import-answer.ts';

export const importRequest = new RequestType<ImportAsked, ImportAnswer | null, void>('storypole/importSurvey');

export const importing: Feature = {
  capabilities: {},
  add: (connection, asking) => {
    connection.onRequest(
      importRequest,
      onceAsked(async () => {
        const { answerOf } = await import('./import-answer.ts');
        return asking.askProjects('fresh', (projects, asked: ImportAsked) => {
          const loaded = projects.find(({ root }) => root === asked.root);
          return loaded ? answerOf(loaded, asked, asking) : null;
        });
      }),
    );
  },
};
