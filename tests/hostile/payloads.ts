/** What somebody may write where a text is asked for, to make the program that shows it do something. All of it is invented. */

const escape = '\u001b';

export const payloads: Readonly<Record<string, string>> = {
  'elements of HTML': `<img src=x onerror=alert(1)><script>alert(1)</script><svg/onload=alert(1)><a href="javascript:alert(1)">x</a>`,
  'the end of an attribute or an element': `"' onmouseover='alert(1)' x="--></style></title></textarea></td></table><!--<b>`,
  'links, images and commands of Markdown': `[x](command:workbench.action.quit) ![y](http://evil.example/p) <http://evil.example> <a@evil.example> http://evil.example/a www.evil.example \`code\` **b** ~~s~~`,
  'blocks of Markdown': '``` | a | b | \\| $(zap) ',
  'a heading of Markdown': '# heading',
  'a list and a rule of Markdown': '- [ ] --- * * *',
  'a reference of Markdown': '[x]: http://evil.example "t"',
  'markup of XML':
    ']]></testcase><evil a="1"/>&evil;<!DOCTYPE x [<!ENTITY e SYSTEM "file:///etc/passwd">]>&e;<?php x ?>',
  'characters that XML forbids': 'a\ufffeb\uffffc\ud800d',
  'a formula': '=HYPERLINK("http://evil.example","x")',
  'a formula behind a sign': '+1+cmd|x!A0',
  'a formula behind an at sign': '@SUM(1;=1;-1)',
  'a formula behind a tab': '\t=1+1',
  'commands of a terminal': `${escape}]8;;http://evil.example${escape}\\x${escape}[2J\u009b31m\u0007`,
  'letters in another order': '\u202etxet\u2066desrever\u2069\u202c',
  'a command of a build server': '::error file=a,line=1::x %0A::set-output name=a::b ##[error]x',
  'a word that objects have': '__proto__',
};

/** Neither element nor mark nor number, so that what it brings is nothing. */
export const harmless = 'harmless';
