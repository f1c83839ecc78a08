import { usePlace } from '../ui/address';
import { Icon, type IconName } from '../ui/icon';
import { session } from '../lib';

interface Way {
  readonly href: string;
  readonly label: string;
  readonly icon: IconName;
}

function ways(): readonly Way[] {
  const who = session.value;
  if (who === null) return [];
  const inTeam = who.teams.length > 0;
  const leads = who.teams.some((team) => team.role === 'lead');
  return [
    ...(inTeam ? ([{ href: '/', label: 'Today', icon: 'today' }] as const) : []),
    ...(leads ? ([{ href: '/caseload', label: 'Caseload', icon: 'caseload' }] as const) : []),
    ...(inTeam ? ([{ href: '/kit', label: 'Kit', icon: 'kit' }] as const) : []),
    { href: '/people', label: who.admin ? 'People' : 'Account', icon: who.admin ? 'people' : 'person' },
    { href: '/about', label: 'About', icon: 'about' },
  ];
}

/** Where one can go: at the side where there is room, else at the bottom edge. */
export function Ways() {
  const { path } = usePlace();
  return (
    <nav class="ways" aria-label="Doorsill">
      {ways().map((way) => (
        <a key={way.href} class="way" href={way.href} aria-current={path === way.href ? 'page' : undefined}>
          <Icon name={way.icon} />
          {way.label}
        </a>
      ))}
    </nav>
  );
}
