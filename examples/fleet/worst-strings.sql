-- The strings that fall furthest below their nameplate: each by its latest judged sweep over all campaigns of its site.
WITH judged AS (
  SELECT
    coalesce(c.site, c.campaign_id) AS place,
    w.string,
    w.module_type,
    w.time_utc,
    w.deviation_pmax,
    w.uncertainty_pmax * (1 + w.deviation_pmax) AS deviation_uncertainty,
    w.nameplate_pmax * w.deviation_pmax AS watts,
    w.verdict,
    w.leading_cause,
    row_number() OVER (
      PARTITION BY coalesce(c.site, c.campaign_id), w.string
      ORDER BY w.time_utc DESC, w.campaign_id, w.line DESC
    ) AS age
  FROM sweeps w
  JOIN campaigns c ON c.campaign_id = w.campaign_id
  WHERE w.whole_string AND w.deviation_pmax IS NOT NULL AND w.verdict NOT IN ('not judged', 'void')
)
SELECT place, string, module_type, time_utc, deviation_pmax, deviation_uncertainty, watts, verdict, leading_cause
FROM judged
WHERE age = 1
ORDER BY deviation_pmax, place, string
LIMIT 20;
