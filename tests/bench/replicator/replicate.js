/**
 * Carries documents into a replicator's own server over HTTP and says how long it took:
 * node replicate.js DOCUMENTS FOLDER PORT. The last line of output is JSON.
 */

import { mkdirSync, readFileSync } from "node:fs";
import { performance } from "node:perf_hooks";
import express from "express";
import serve from "express-pouchdb";
import PouchDB from "pouchdb";

const BATCH = 200;
const [documents, folder, port] = process.argv.slice(2);

mkdirSync(folder, { recursive: true });
const Kept = PouchDB.defaults({ prefix: `${folder}/` });
const server = express();
server.use("/db", serve(Kept, {
  inMemoryConfig: true, logPath: `${folder}/log.txt`, mode: "minimumForPouchDB" }));
const listening = server.listen(Number(port), "127.0.0.1");
await new Promise((ready) => { listening.once("listening", ready); });

const here = new Kept("here");
const told = JSON.parse(readFileSync(documents, "utf-8"));
await here.bulkDocs(told.map((each, place) => ({ _id: String(place), ...each })));
const there = new PouchDB(`http://127.0.0.1:${port}/db/there`);
const began = performance.now();
await here.replicate.to(there, { batch_size: BATCH });
const ms = performance.now() - began;
const { doc_count: stored } = await there.info();
console.log(JSON.stringify({ ms, stored }));
process.exit(0);
