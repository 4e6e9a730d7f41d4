#!/usr/bin/env node
/*
 * The first file that runs. It is old JavaScript on purpose: an old Node must be able to read it,
 * so that it can say what it needs instead of failing on syntax it does not know.
 */
/* biome-ignore-all lint/style/useTemplate: template literals are newer than the oldest Node that must read this */
'use strict';

var OLDEST = 22; // the same number as engines.node in package.json; a test holds them equal
var found = process.versions.node;

/** Where what was compiled is kept: a folder of the person's own, as whoever can write there decides what runs. */
function compiled() {
  var env = process.env;
  var path = require('node:path');
  var own = env.XDG_CACHE_HOME || env.LOCALAPPDATA;
  return path.isAbsolute(own || '')
    ? path.join(own, 'storypole')
    : path.join(require('node:os').homedir(), '.cache', 'storypole');
}

/** An editor asks for nothing but the server, whose own bundle starts sooner than the whole command. */
function asksForServer(args) {
  return args[0] === 'language-server' && (args.length === 1 || (args.length === 2 && args[1] === '--stdio'));
}

function main() {
  var modules = require('node:module');
  // It starts sooner, where the Node that runs can keep what it compiled. A folder that cannot be written is no matter.
  if (modules.enableCompileCache) {
    try {
      modules.enableCompileCache(compiled());
    } catch (_) {
      // A person without a home, say.
    }
  }
  require(asksForServer(process.argv.slice(2)) ? './server.cjs' : './cli.cjs');
}

if (parseInt(found, 10) < OLDEST) {
  process.stderr.write('storypole needs Node ' + OLDEST + ' or newer; this is Node ' + found + '.\n');
  process.exitCode = 2;
} else {
  main();
}
