import { afterAll, beforeAll, expect } from 'vitest';
import { buildBesideDemo, Client } from './client.js';

export interface Served {
  /** Holds the demo. */
  readonly folder: string;
  /** The file of the built program. */
  readonly program: string;
  readonly client: Client;
}

/**
 * One server beside the demo for all tests of a file. At the end it has ended in good order, and has said nothing beside the protocol.
 * @param ready called once it runs, before the first test
 */
export function serveBesideDemo(ready?: (served: Served) => Promise<void>): Served {
  let built: ReturnType<typeof buildBesideDemo>;
  let client: Client;
  const served: Served = {
    get folder() {
      return built.folder;
    },
    get program() {
      return built.program;
    },
    get client() {
      return client;
    },
  };
  beforeAll(async () => {
    built = buildBesideDemo();
    client = await Client.start(built);
    await ready?.(served);
  }, 60_000);
  afterAll(async () => {
    expect(await client.end()).toBe(0);
    expect(client.strayOutput()).toBe('');
    expect(client.complaints).toBe('');
    built.remove();
  });
  return served;
}
