/** What a thread of Node runs. */
import { parentPort } from 'node:worker_threads';
import { analystAtWork } from '../../evaluation/analyst.js';

parentPort!.on(
  'message',
  analystAtWork((answer) => parentPort!.postMessage(answer)),
);
