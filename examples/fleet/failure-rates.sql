-- By module type: strings whose latest judged sweep failed, and modules replaced, each over what was measured or installed. A string
-- measured in several campaigns of one site counts once.
WITH known AS (
  SELECT
    coalesce(c.site, c.campaign_id) AS place,
    s.string,
    s.module_type,
    s.series_modules * s.parallel_strings AS modules,
    s.latest_verdict,
    row_number() OVER (
      PARTITION BY coalesce(c.site, c.campaign_id), s.string
      ORDER BY CASE WHEN s.latest_verdict IN ('pass', 'conditional pass', 'conditional fail', 'fail') THEN 0 ELSE 1 END,
        c.last_sweep DESC, c.campaign_id
    ) AS age
  FROM strings s
  JOIN campaigns c ON c.campaign_id = s.campaign_id
),
replaced AS (
  SELECT coalesce(c.site, c.campaign_id) AS place, r.string, count(*) AS modules
  FROM replacements r
  JOIN campaigns c ON c.campaign_id = r.campaign_id
  GROUP BY coalesce(c.site, c.campaign_id), r.string
)
SELECT
  k.module_type,
  count(*) AS strings,
  sum(CASE WHEN k.latest_verdict IN ('fail', 'conditional fail') THEN 1 ELSE 0 END) AS failed,
  sum(CASE WHEN k.latest_verdict IN ('fail', 'conditional fail') THEN 1.0 ELSE 0.0 END)
    / nullif(sum(CASE WHEN k.latest_verdict IN ('pass', 'conditional pass', 'conditional fail', 'fail') THEN 1 ELSE 0 END), 0)
    AS failed_of_judged,
  sum(k.modules) AS modules,
  coalesce(sum(r.modules), 0) AS replaced,
  coalesce(sum(r.modules), 0) * 1.0 / nullif(sum(k.modules), 0) AS replaced_of_installed
FROM known k
LEFT JOIN replaced r ON r.place = k.place AND r.string = k.string
WHERE k.age = 1
GROUP BY k.module_type
ORDER BY failed_of_judged DESC, k.module_type;
