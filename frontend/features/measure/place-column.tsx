import { useState } from 'preact/hooks';
import { Button, Segments } from '../../ui';
import { SitePicker } from '../../ui/site-picker';
import { siteWords } from '../../ui/sites';
import { countWords } from '../../ui/words';
import type { Visit } from '../../lib/model.gen';
import type { MeasurePlace } from './place';

/** A ring with a dot: measured here now; a dot: measured; a ring: may be tried. */
function SiteMark(props: { readonly now: boolean; readonly measured: boolean }) {
  return (
    <svg class="site-mark" viewBox="-18 -18 36 36" aria-hidden="true" focusable="false">
      {props.now ? <circle class="site-mark-ring" r="14" stroke-width="3" /> : null}
      <circle class={props.measured || props.now ? 'site-mark-dot' : 'site-mark-ring'} r="8" stroke-width="3" />
    </svg>
  );
}

/** The sites of this visit that may be gone back to: the chosen one, those that were measured, and the control's. */
function sitesOf(visit: Visit, now: string): readonly string[] {
  const measured = visit.readings.filter((reading) => !reading.slip).map((reading) => reading.site);
  return [...new Set([now, visit.setup?.site ?? '', ...measured])].filter((site) => site !== '');
}

/** Where one measures and how the limb lies: in one touch where the visit knows the site, else by the picture. */
export function PlaceColumn(props: {
  readonly visit: Visit;
  readonly place: MeasurePlace;
  readonly what: string;
  readonly onChange: (part: Partial<MeasurePlace>) => void;
}) {
  const { visit, place } = props;
  const [picking, setPicking] = useState(place.site === '');
  const choose = (site: string) => {
    props.onChange({ site });
    setPicking(false);
  };
  const taken = (site: string) => visit.readings.filter((one) => !one.slip && one.site === site && one.what === props.what).length;
  return (
    <>
      {picking ? (
        <SitePicker legend="Site" value={place.site} onChange={choose} />
      ) : (
        <div class="site-rows" role="group" aria-label="Site">
          {sitesOf(visit, place.site).map((site) => (
            <Button key={site} size="big" pressed={site === place.site} class="site-row" onPress={() => choose(site)}>
              <SiteMark now={site === place.site} measured={taken(site) > 0} />
              <span>
                {siteWords(site)}
                <small>{taken(site) === 0 ? (site === place.site ? 'now' : 'not measured') : countWords(taken(site), 'reading')}</small>
              </span>
            </Button>
          ))}
          <Button size="big" onPress={() => setPicking(true)}>
            Another site
          </Button>
        </div>
      )}
      <Segments
        big
        legend="Limb or head is"
        legendHidden
        value={place.supported ? 'yes' : 'no'}
        options={[
          { value: 'yes', label: 'Supported' },
          { value: 'no', label: 'Not supported' },
        ]}
        onChange={(value) => props.onChange({ supported: value === 'yes' })}
      />
    </>
  );
}
