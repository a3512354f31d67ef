import type { LaunchOptions } from 'playwright-core';

export const chromiumOptions: LaunchOptions = {
  executablePath: process.env['SWEEPBOOK_CHROMIUM'] ?? '/usr/bin/chromium',
  args: [
    '--no-sandbox',
    '--disable-gpu',
    '--disable-quic',
    '--no-first-run',
    '--disable-background-networking',
    '--disable-component-update',
    '--disable-sync',
  ],
};
