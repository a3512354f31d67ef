-- Change of the translated Pmax of each string from its first to its last campaign, a year, as a fraction of the nameplate. The
-- uncertainty takes the two campaigns as independent; where the same reference device was used in both, it is smaller.
-- Campaigns of one site belong together by the name of the site; a campaign less than half a year later is a counter-check.
WITH measured AS (
  SELECT
    c.site,
    w.campaign_id,
    w.string,
    max(w.module_type) AS module_type,
    avg(extract(YEAR FROM w.time_utc) + (extract(DOY FROM w.time_utc) - 1) / 365.25) AS years,
    avg(w.deviation_pmax) AS deviation,
    max(w.uncertainty_pmax * (1 + w.deviation_pmax)) AS uncertainty
  FROM sweeps w
  JOIN campaigns c ON c.campaign_id = w.campaign_id
  WHERE w.whole_string AND w.deviation_pmax IS NOT NULL AND w.verdict NOT IN ('not judged', 'void')
    AND w.time_utc IS NOT NULL AND c.site IS NOT NULL
  GROUP BY c.site, w.campaign_id, w.string
),
ordered AS (
  SELECT
    *,
    row_number() OVER (PARTITION BY site, string ORDER BY years, campaign_id) AS from_first,
    row_number() OVER (PARTITION BY site, string ORDER BY years DESC, campaign_id DESC) AS from_last
  FROM measured
)
SELECT
  a.site,
  a.string,
  b.module_type,
  b.years - a.years AS years,
  (b.deviation - a.deviation) / (b.years - a.years) AS change_per_year,
  sqrt(a.uncertainty * a.uncertainty + b.uncertainty * b.uncertainty) / (b.years - a.years) AS uncertainty_per_year
FROM ordered a
JOIN ordered b ON b.site = a.site AND b.string = a.string
WHERE a.from_first = 1 AND b.from_last = 1 AND b.years - a.years > 0.5
ORDER BY change_per_year, a.site, a.string;
