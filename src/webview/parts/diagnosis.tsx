import type { PreviewModel } from '../../presentation/previewTypes.js';

/** What the shape of the curve says; nothing where it is as expected. */
export function DiagnosisPart({ sweep }: { sweep: PreviewModel }) {
  const { diagnosis } = sweep;
  if (!diagnosis) return null;
  return (
    <section class="diagnosis" aria-labelledby="diagnosis">
      <h2 id="diagnosis">Shape of the curve</h2>
      {diagnosis.causes.length === 0 && <p>{diagnosis.headline}</p>}
      {diagnosis.findings.length > 0 && (
        <ol class="found">
          {diagnosis.findings.map(({ kind, text }) => (
            <li key={kind + text}>{text}</li>
          ))}
        </ol>
      )}
      {diagnosis.causes.length > 0 && (
        <>
          <h3>What may cause it, likeliest first</h3>
          <ul class="causes">
            {diagnosis.causes.map((cause) => (
              <li key={cause.text}>
                <span class="share" title="Share of the evidence among the causes tried">
                  {cause.share}
                </span>
                <span>
                  {cause.text} <span class="about">{cause.about}</span>
                  <span class="apart">{cause.tellApart}</span>
                </span>
              </li>
            ))}
          </ul>
        </>
      )}
    </section>
  );
}
