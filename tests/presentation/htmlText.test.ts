import { expect, it } from 'vitest';
import { html } from '../../src/presentation/htmlText.js';

it('escapes in templates by default', () => {
  const hostile = `"><script>alert('x')</script>&`;
  expect(html`<p title="${hostile}">${[hostile, html`<b>${1}</b>`]}</p>`.html).toBe(
    '<p title="&quot;&gt;&lt;script&gt;alert(&#39;x&#39;)&lt;/script&gt;&amp;">' +
      '&quot;&gt;&lt;script&gt;alert(&#39;x&#39;)&lt;/script&gt;&amp;<b>1</b></p>',
  );
});
