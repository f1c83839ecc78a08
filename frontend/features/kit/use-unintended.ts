import { useEffect, useState } from 'preact/hooks';
import { convertForces } from '../../lib';
import type { Visit } from '../../lib/model.gen';

/** The largest force at a site that was not meant, in gf; null until there is one. The engine converts units. */
export function useUnintended(visit: Visit, site: string): number | null {
  const [found, setFound] = useState<number | null>(null);
  const readings = visit.readings.filter((one) => one.what === 'unintended' && one.site === site && !one.slip);
  const key = readings.map((one) => `${one.value} ${one.unit}`).join();
  useEffect(() => {
    let here = true;
    const units = [...new Set(readings.map((one) => one.unit))];
    Promise.all(
      units.map((unit) =>
        convertForces(
          readings.filter((one) => one.unit === unit).map((one) => one.value),
          unit,
          'gf',
        ),
      ),
    ).then(
      (lists) => {
        const all = lists.flat();
        if (here) setFound(all.length > 0 ? Math.max(...all) : null);
      },
      () => here && setFound(null),
    );
    return () => {
      here = false;
    };
  }, [key]);
  return found;
}
