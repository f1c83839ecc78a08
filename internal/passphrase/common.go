package passphrase

// common is what many people think of, longest first within each part. It was
// written for this program: sayings, first lines of works in the public domain,
// counting, and words that passwords are commonly made of. No list of stolen
// passwords went into it.
const common = `
we the people of the united states
we hold these truths to be self evident
it was the best of times
it was the worst of times
it is a truth universally acknowledged
to be or not to be that is the question
to be or not to be
over the door sill
all the worlds a stage
friends romans countrymen
a rose by any other name
wherefore art thou romeo
shall i compare thee to a summers day
something is rotten in the state of denmark
now is the winter of our discontent
all that glitters is not gold
brevity is the soul of wit
call me ishmael
in the beginning was the word
in the beginning
let there be light
the lord is my shepherd
our father who art in heaven
hallowed be thy name
thy will be done
amazing grace how sweet the sound
god save the king
god save the queen
god bless america
o say can you see
land of hope and glory
rule britannia
i think therefore i am
cogito ergo sum
veni vidi vici
carpe diem
alea iacta est
lorem ipsum dolor sit amet
lorem ipsum
sein oder nicht sein
aller anfang ist schwer
es war einmal
freude schoener goetterfunken
morgenstund hat gold im mund
ende gut alles gut
uebung macht den meister
liberte egalite fraternite
il etait une fois
en un lugar de la mancha
nel mezzo del cammin
once upon a time
happily ever after
twinkle twinkle little star
how i wonder what you are
mary had a little lamb
humpty dumpty sat on a wall
humpty dumpty
jack and jill went up the hill
london bridge is falling down
old macdonald had a farm
row row row your boat
baa baa black sheep
three blind mice
ring around the rosie
itsy bitsy spider
happy birthday to you
happy birthday
merry christmas
happy new year
jingle bells
silent night
the quick brown fox jumps over the lazy dog
the quick brown fox
jumps over the lazy dog
the lazy dog
correct horse battery staple
battery staple
correct horse
may the force be with you
an apple a day keeps the doctor away
a bird in the hand is worth two in the bush
a bird in the hand
a penny saved is a penny earned
a picture is worth a thousand words
actions speak louder than words
all good things must come to an end
better late than never
dont count your chickens
early to bed and early to rise
every cloud has a silver lining
good things come to those who wait
home is where the heart is
home sweet home
honesty is the best policy
if at first you dont succeed
live and let live
live laugh love
look before you leap
love is all you need
no pain no gain
practice makes perfect
practise makes perfect
rome wasnt built in a day
the early bird catches the worm
the early bird
the pen is mightier than the sword
the truth is out there
there is no place like home
theres no place like home
time flies when youre having fun
time is money
where there is a will there is a way
where theres a will theres a way
you only live once
this is my password
this is a password
my very secure password
super secret password
what is my password
i forgot my password
my secret password
open sesame
let me in please
let me in
change me now
change me
enter password here
password one two three
correct password
i love you so much
i love you very much
i love you forever
i love my family
i love my wife
i love my husband
i love my mom
i love my children
i love my cat
i love my dog
i love you
i hate passwords
one two three four five six seven eight nine ten
one two three four five six seven
one two three four five six
one two three four five
one two three four
one two three
un deux trois quatre cinq
un deux trois
eins zwei drei vier fuenf
eins zwei drei
uno dos tres cuatro cinco
uno dos tres
alpha bravo charlie delta
alpha beta gamma delta
do re mi fa sol la ti do
red orange yellow green blue
red green blue
black and white
salt and pepper
heads or tails
hello world
good morning
good night
have a nice day
thank you very much
thank you
wheelchair assessment
occupational therapist
occupational therapy
occupational
physiotherapist
physiotherapy
administrator
motdepasse
contrasena
passphrase
wheelchair
adminadmin
assistant
clinician
therapist
changeme
computer
football
baseball
hospital
internet
kennwort
password
passwort
princess
starwars
sunshine
superman
trustno1
whatever
geheim
letmein
mustang
physio
secret
service
therapy
welcome
azerty
asdfgh
qwerty
qwertz
zxcvbn
batman
dragon
flower
hello
killer
ladybug
master
michael
monkey
nothing
orange
pepper
purple
shadow
soccer
summer
spring
autumn
winter
tigger
admin
login
love
temp
test
user
demo
january
february
march
april
june
july
august
september
october
november
december
monday
tuesday
wednesday
thursday
friday
saturday
sunday
`
