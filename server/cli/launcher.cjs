#!/usr/bin/env node
/*
 * The first file that runs. It is old JavaScript on purpose: an old Node must be able to read it,
 * so that it can say what it needs instead of failing on syntax it does not know.
 */
/* biome-ignore-all lint/style/useTemplate: template literals are newer than the oldest Node that must read this */
'use strict';

var OLDEST = 22; // the same number as engines.node in package.json; a test holds them equal
var found = process.versions.node;
var modules;

if (parseInt(found, 10) < OLDEST) {
  process.stderr.write('storypole needs Node ' + OLDEST + ' or newer; this is Node ' + found + '.\n');
  process.exitCode = 2;
} else {
  // What is compiled is kept in the folder for temporary files, where the Node that runs can do so: it starts sooner.
  modules = require('node:module');
  if (modules.enableCompileCache) modules.enableCompileCache();
  require('./cli.cjs');
}
