import '../style/index.css';
import '../results/desk.css';
import '../home/home.css';
import '../settings/settings.css';
import './app.css';
import './start';
