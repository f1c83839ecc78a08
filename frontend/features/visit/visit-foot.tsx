import { useMemo } from 'preact/hooks';
import { usePlace } from '../../ui/address';
import { Icon } from '../../ui/icon';
import { links } from '../../ui/visit/links';
import { openVisit } from '../../lib';
import { nextMissing } from './next-missing';

/** The ways of a visit at the bottom edge, where there is no room for its parts at the side. */
export function VisitFoot(props: { readonly id: string }) {
  const view = useMemo(() => openVisit(props.id), [props.id]).value;
  const { path, url } = usePlace();
  if (view === null || view.blind) return null;
  const current = (href: string) => (path === href ? 'page' : undefined);
  const missing = view.result?.missing?.length;
  const next = nextMissing(view, url);
  return (
    <nav class="foot" aria-label="The visit">
      <a class="way" href={links.map(props.id)} aria-current={current(links.map(props.id))}>
        <Icon name="parts" />
        Parts
      </a>
      <a class="way" href={links.missing(props.id)} aria-current={current(links.missing(props.id))}>
        <Icon name="missing" />
        {missing === undefined ? 'Missing' : `Missing: ${missing}`}
      </a>
      {next === undefined ? null : (
        <a class="way way-main" href={next.href}>
          <Icon name="next" />
          Next missing
        </a>
      )}
      <a class="way" href={links.level(props.id)} aria-current={current(links.level(props.id))}>
        <Icon name="door" />
        Level
      </a>
    </nav>
  );
}
