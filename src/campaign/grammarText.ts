/** The parts of the language reference that are prose, not table. */

export const layoutRules = `## Rules

1. One fact a line. A block is a header line at the start of a line and the indented lines under it; it ends at the next
   line that is not indented. Blank lines, comment lines and the order of blocks carry no meaning.
2. \`#\` starts a comment, outside quotes, to the end of the line.
3. Every physical number carries its unit. A unit of the wrong dimension is an error; another unit of the right dimension
   is converted. The decimal sign is a point.
4. An uncertainty follows its value: \`812 W/m2 ± 2 %\` (\`+-\` does as well). It is expanded with k = 2 unless \`k=1\` is
   written behind it (JCGM 100). A percentage is relative to the value, save where the value is itself a fraction.
   Behind a value of the nameplate it is a tolerance, which may be a range: \`408.4 W -0 % .. 3 %\`.
5. A range is \`-5 % .. 10 %\`, open on either side: \`-5 % ..\` or \`.. 45 deg\`.
6. A name has letters, digits and \`. _ -\`, and starts with a letter, a digit or \`_\`; upper and lower case differ.
   A quoted title may follow it. A quote within quotes is written twice.
7. An address is a string (\`1.03\`), one module of it (\`1.03/11\`), or a section (\`1.03/1-9\`); positions count from
   the positive end, from 1.
8. A run \`string 1.01 .. 1.12\` stands for equal strings: the last digits count up, zeros in front are kept; at most 1000.
9. A time is \`2026-05-14 11:42\`, with seconds and with \`Z\` or \`+02:00\` where wanted; else it is in the zone of the site.
10. \`include "path"\` reads another file in its place. Paths are relative to the file they are written in.
11. A name is given once. Of a property written twice, and of a name given twice, the first counts.
12. Where a sweep names no criteria, those of its string hold, else those of the campaign, else the only ones there are.
    Likewise a string lies in the only plane, and a plane stands on the only site.
`;

export const grammarRules = `file        = { line } ;
line        = ( header | indent property | "" ) [ comment ] line-end ;
comment     = "#" { any character } ;
property    = keyword value ; (* see the tables of the blocks *)
text        = '"' { any character but '"' | '""' } '"' ;
name        = ( letter | digit | "_" ) { letter | digit | "." | "_" | "-" } ;
address     = name [ "/" integer [ "-" integer ] ] ;
integer     = digit { digit } ;
number      = [ "+" | "-" ] ( integer [ "." { digit } ] | "." integer ) [ ( "e" | "E" ) [ "+" | "-" ] integer ] ;
quantity    = number unit [ uncertainty ] ;
rated       = number unit [ uncertainty | range ] ; (* Pmax, Isc, Voc, Imp, Vmp of a module: its tolerance *)
uncertainty = ( "±" | "+-" ) number unit [ "k=" number ] ;
range       = number unit ".." [ number unit ] | ".." number unit ;
date        = year "-" month "-" day ;
time        = date hour ":" minute [ ":" second ] [ "Z" | ( "+" | "-" ) hour ":" minute ] ;
latitude    = number ( "N" | "S" ) ;
longitude   = number ( "E" | "W" ) ;
column      = text | "column" integer | integer ;
temperature = quantity ( "cell" | "module" [ "offset" quantity ] ) | "from" "Voc" ;
rows        = "points" unit "," unit line-end { indent number [ "," ] number line-end } ;`;
