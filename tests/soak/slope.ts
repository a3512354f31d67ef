/** Slope of the least-squares line through points. */
export function slopeOf(points: readonly (readonly [x: number, y: number])[]): number {
  const mean = (of: (point: readonly [number, number]) => number): number =>
    points.reduce((sum, point) => sum + of(point), 0) / points.length;
  const [meanX, meanY] = [mean(([x]) => x), mean(([, y]) => y)];
  const products = points.reduce((sum, [x, y]) => sum + (x - meanX) * (y - meanY), 0);
  const squares = points.reduce((sum, [x]) => sum + (x - meanX) ** 2, 0);
  return products / squares;
}
