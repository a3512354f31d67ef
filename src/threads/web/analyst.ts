/** What a worker of a browser runs. */
import { analystAtWork } from '../../evaluation/analyst.js';
import type { AnalystRequest } from '../../evaluation/analystMessages.js';

const work = analystAtWork((answer) => postMessage(answer));
addEventListener('message', ({ data }) => work(data as AnalystRequest));
