import { useState } from 'preact/hooks';
import { ChoiceRows, More, Segments } from '.';
import { Figure } from './site-figure';
import { regionOf, sites, sitesIn, siteWords, type RegionId } from './sites';

function choices(list: readonly { readonly id: string; readonly words: string }[]) {
  return list.map((site) => ({ value: site.id, label: site.words }));
}

/** A body site, by the figure or by the full list; both do the same. */
export function SitePicker(props: { readonly legend: string; readonly value: string; readonly onChange: (site: string) => void }) {
  const [view, setView] = useState<'front' | 'back'>('front');
  const [region, setRegion] = useState<RegionId | null>(regionOf(props.value));
  const choose = (next: RegionId) => {
    setRegion(next);
    const only = sitesIn(next);
    if (only.length === 1 && only[0]) props.onChange(only[0].id);
  };
  return (
    <section class="site-picker" aria-label={props.legend}>
      <p class="site-chosen" role="status">
        {props.legend}: <strong>{props.value === '' ? 'not chosen' : siteWords(props.value)}</strong>
      </p>
      <div class="site-columns">
        <div>
          <Segments
            legend="Figure seen from"
            legendHidden
            value={view}
            options={[
              { value: 'front', label: 'From the front' },
              { value: 'back', label: 'From the back' },
            ]}
            onChange={(value) => setView(value === 'back' ? 'back' : 'front')}
          />
          <Figure view={view} chosen={region} onChoose={choose} />
        </div>
        <div class="site-lists">
          {region === null ? (
            <p class="field-hint">Touch a part of the figure, or use the full list.</p>
          ) : (
            <ChoiceRows legend="Which site exactly?" value={props.value} options={choices(sitesIn(region))} onChange={props.onChange} />
          )}
          <More summary="Full list of sites">
            <ChoiceRows
              legend="All sites"
              value={props.value}
              options={choices(sites)}
              onChange={(site) => {
                setRegion(regionOf(site));
                props.onChange(site);
              }}
            />
          </More>
        </div>
      </div>
    </section>
  );
}
