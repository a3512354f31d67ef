import { describe, expect, it } from 'vitest';
import { contentSecurityPolicy, newNonce, panelHtml } from '../../src/editor/preview/panelHtml.js';

const page = {
  cspSource: 'https://host.invalid',
  script: 'https://host.invalid/s.js',
  styles: 'https://host.invalid/s.css',
};

describe('the page of the panel', () => {
  it('allows its own script and styles and nothing else', () => {
    const policy = contentSecurityPolicy({ ...page, nonce: 'n1' });
    expect(policy).toContain("default-src 'none'");
    expect(policy).toContain("script-src 'nonce-n1'");
    expect(policy).not.toMatch(/unsafe|connect-src|\*/);
    expect(panelHtml({ ...page, nonce: 'n1' })).not.toMatch(
      / style=| on\w+=|<style|<script(?! nonce="n1" src=)/,
    );
  });

  it('has another nonce each time', () => {
    const nonces = new Set(Array.from({ length: 100 }, newNonce));
    expect(nonces.size).toBe(100);
    for (const nonce of nonces) expect(nonce).toMatch(/^[0-9a-f]{48}$/);
  });
});
