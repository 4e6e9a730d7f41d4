/** `storypole new` in folders of its own. */
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { type Measure, newProject } from '../../server/language/new-project.ts';
import { folderWith, storypole } from './command.ts';

describe('new', () => {
  it.each<Measure>(['inches', 'millimetres'])(
    'makes what an editor makes, checked without errors, in %s',
    (measure) => {
      const folder = folderWith({});
      const run = storypole(['new', 'jobs/quarry-lane', '--measure', measure], folder);
      expect(run).toMatchObject({ status: 0, err: '' });
      expect(run.out).toContain('Made a project of 4 files:\n  jobs/quarry-lane/project.closet\n');
      const project = join(folder, 'jobs/quarry-lane');
      for (const { path, text } of newProject({ name: 'quarry lane', measure }).files)
        expect(readFileSync(join(project, path), 'utf8')).toBe(text);
      expect(readdirSync(project).sort()).toEqual(['materials.closet', 'project.closet', 'templates', 'units.closet']);
      expect(readdirSync(join(project, 'templates'))).toEqual(['reach-in.closet']);
      for (const asked of ['check', 'cuts', 'plan']) expect(storypole([asked], project).status).toBe(0);
      expect(storypole(['format', '--check'], project).status).toBe(0);
    },
  );

  it('is called as one says, and without that as its folder is', () => {
    const folder = folderWith({});
    storypole(['new', '.', '--name', 'Quarry Lane, north side'], folder);
    expect(readFileSync(join(folder, 'project.closet'), 'utf8')).toContain('project "Quarry Lane, north side" {');
    expect(storypole(['new', 'a', '--name', ' '], folder)).toMatchObject({
      status: 2,
      err: 'storypole: A project needs a name. Say it with --name.\n',
    });
  });

  it('writes nothing beside .closet files', () => {
    const folder = folderWith({ 'old.closet': '// mine\n' });
    expect(storypole(['new', '.'], folder)).toEqual({
      status: 2,
      out: '',
      err: 'storypole: old.closet is in that folder already, so nothing was written. Choose a folder without .closet files.\n',
    });
    expect(readdirSync(folder)).toEqual(['old.closet']);
  });

  it('takes back what it wrote where a file further in is in the way', () => {
    const folder = folderWith({ 'templates/reach-in.closet': '// mine\n' });
    expect(storypole(['new', '.'], folder)).toEqual({
      status: 2,
      out: '',
      err: 'storypole: templates/reach-in.closet is there already, so nothing was written.\n',
    });
    expect(readdirSync(folder)).toEqual(['templates']);
    expect(readFileSync(join(folder, 'templates/reach-in.closet'), 'utf8')).toBe('// mine\n');
    expect(readdirSync(join(folder, 'templates'))).toEqual(['reach-in.closet']);
  });

  it('leaves no folder behind where it cannot write', () => {
    const folder = folderWith({});
    mkdirSync(join(folder, 'job'));
    writeFileSync(join(folder, 'job/templates'), 'a file in the way');
    const run = storypole(['new', 'job'], folder);
    expect([run.status, run.out]).toEqual([2, '']);
    expect(readdirSync(join(folder, 'job'))).toEqual(['templates']);
    expect(storypole(['new', 'job/templates/deep'], folder).status).toBe(2);
    expect(existsSync(join(folder, 'job/templates/deep'))).toBe(false);
  });
});
