/** The building of the soak as the files of a project: materials, templates, floors with their units, surveys. */
import { building } from '../building.ts';

const unitsAFile = 250;
const surveysAFile = 100;

/** File names with their texts. Every tenth unit is measured. */
export function projectFiles(units: number): Map<string, string> {
  const declarations = building(units, Math.floor(units / 10)).split(/\n(?=(?:unit|survey|template) )/);
  const files = new Map<string, string>();
  const add = (name: string, text: string): void => {
    files.set(name, `${files.get(name) ?? ''}${text.trimEnd()}\n\n`);
  };
  let unit = 0;
  let survey = 0;
  for (const text of declarations) {
    if (text.startsWith('unit ')) add(`floors/floor-${Math.floor(unit++ / unitsAFile)}.closet`, text);
    else if (text.startsWith('survey ')) add(`surveys/survey-${Math.floor(survey++ / surveysAFile)}.closet`, text);
    else if (text.startsWith('template ')) add('templates.closet', text);
    else add('project.closet', text);
  }
  return files;
}
