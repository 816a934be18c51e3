#include "web/common_passwords.h"

// The 3,000 commonest passwords of 8 characters or more (shorter ones are refused by their length),
// in order of their letters. From the list "passwords" of zxcvbn 4.4.2 (npm,
// lib/frequency_lists.js), which its authors counted in published leaks. MIT licence, Copyright (c)
// 2012-2016 Dan Wheeler and Dropbox, Inc. People choose what they choose: some of these are rude.

namespace gp {

std::string_view common_passwords() {
  static constexpr std::string_view kAll = R"words(
!qaz2wsx 0.0.0.000 0000000000o 01011900 01011910 01011950 01011960 01011961 01011970 01011971
01011972 01011973 01011974 01011975 01011976 01011977 01011978 01011979 01011980 01011981
01011982 01011983 01011984 01011985 01011986 01011987 01011988 01011989 01011990 01011991
01011992 01011993 01011994 01011995 01011999 01012000 01012001 01012010 01012011 01020304
0102030405 01021990 01031985 01031988 01031989 01041985 01041988 01061986 01061990 01071986
01081989 01091987 01091989 01121986 01121988 01478520 0192837465 02011971 02011975 02011980
02011981 02011982 02011983 02011984 02011985 02011986 02011987 02011988 02011989 02021971
02021973 02021976 02021979 02021981 02021982 02021983 02021984 02021985 02021986 02021987
02021988 02021989 02021990 02031970 02031973 02031974 02031975 02031977 02031978 02031979
02031980 02031981 02031982 02031984 02031985 02031986 02031987 02031988 02031989 02041972
02041973 02041974 02041975 02041976 02041977 02041978 02041979 02041980 02041981 02041982
02041983 02041984 02041985 02041986 02041987 02041988 02041989 02051970 02051972 02051973
02051975 02051976 02051977 02051978 02051980 02051981 02051982 02051983 02051984 02051985
02051986 02051987 02051988 02051989 02061971 02061972 02061974 02061976 02061977 02061980
02061982 02061983 02061984 02061985 02061986 02061987 02061988 02061989 02071971 02071975
02071976 02071978 02071979 02071980 02071981 02071982 02071983 02071984 02071986 02071987
02071988 02071989 02081970 02081973 02081974 02081976 02081977 02081980 02081982 02081983
02081984 02081985 02081986 02081987 02081988 02081989 02091971 02091973 02091975 02091976
02091977 02091980 02091981 02091983 02091984 02091985 02091986 02091987 02091989 02101973
02101976 02101977 02101979 02101981 02101983 02101984 02101985 02101986 02101987 02101988
02101989 03031986 03041986 03041991 03082006 04041988 04041991 05051985 05051987 05051989
06061986 07071977 07071987 07091990 08031985 08031986 08051990 08081988 08121986 085tzzqi
09051945 0987654321q 0o9i8u7y 10011986 10011990 10031988 10051987 10071987 10101986 10101990
10203040 1020304050 10293847 1029384756 11001001 11051987 11051990 11061985 11081989 11111111
11112222 1111qqqq 11121986 11122233 111222333 11223344 1122334455 112233445566 11235813
1123581321 12011987 12021988 12031985 12031987 12051988 12121985 12121990 12131415 1213141516
12312312 1232323q 123321123 12340987 12344321 1234509876 12345123 123454321 1234554321 12345612
123456123 12345654321 123456654321 12345677 12345678 123456789 1234567890 12345678900
1234567890a 1234567890q 1234567890z 1234567891 12345678910 123456789123 1234567899
123456789987654321 123456789a 123456789d 123456789k 123456789l 123456789m 123456789o 123456789p
123456789q 123456789qwe 123456789r 123456789s 123456789v 123456789z 12345678a 12345678q 12345679
1234567a 1234567aa 1234567q 12345687 123456987 123456aa 123456ab 123456abc 123456as 123456asd
123456qq 123456qqq 123456qw 123456qwe 123456qwerty 123456ru 12345abc 12345asd 12345qaz 12345qwe
12345qwer 12345qwert 12345qwerty 12348765 12349876 1234abcd 1234asdf 1234kekc 1234qwer 1234rewq
1234zxcv 123581321 12365478 123654789 12369874 123698741 123698745 123789456 123hfjdk147
123masha 123mudar 123qq123 123qwe123 123qwe456 123qweas 123qweasd 123qweasdzxc 123qwert
123qwerty 12locked 12qw12qw 12qw34er 12qwaszx 12qwerty 12s3t4p55 13021990 13031987 13041987
13041988 13061986 13121985 13243546 13245768 134679852 1357908642 135792468 1357924680 135798642
14021985 14021986 14061991 14111986 14725836 147258369 14785236 147852369 14789632 147896321
147896325 14881488 15011987 15021985 15051981 15051990 15101986 15426378 159753456 16051987
16051989 16121987 17011987 17051988 17061988 17171717aa 18011987 18061990 18091985 18121812
18273645 18436572 19061987 19101987 19283746 192837465 19411945 1a2a3a4a 1a2b3c4d 1a2b3c4d5e
1a2s3d4f 1a2s3d4f5g 1basebal 1hxboqg2 1letmein 1michael 1million 1mustang 1passwor 1password
1q2q3q4q 1q2w3e4r 1q2w3e4r5 1q2w3e4r5t 1q2w3e4r5t6y 1qa2ws3ed 1qaz2wsx 1qaz2wsx3edc
1qaz2wsx3edc4rfv 1qazxsw2 1qazxsw23edc 1qazzaq1 1qw23er4 1x2zkg8w 1z2x3c4v 1z2x3c4v5b 20031987
20051988 20061988 20091988 20091991 20111986 20spanks 21011989 21031987 21031988 21031990
21051988 21051991 21101986 22011988 22021986 22021989 22031984 22041987 22041988 22061941
22071986 22334455 22446688 23021986 23041987 23skidoo 24011985 24061986 24111989 24681012
25031987 25041988 25081988 25091987 25121987 25800852 25802580 26031988 26061987 27061988
27731828 28011987 28021990 28021992 28041987 29011985 29051989 29071983 2wsx3edc 30031988
30041986 30051985 31011987 31415926 321654987 369258147 369852147 3edc4rfv 3rjs1la7qe 43046721
44332211 44magnum 45m2do5bs 4815162342 4rfv3edc 50spanks 55bgates 5hsu75kpot 5tgb6yhn 5wr2i7h8
66613666 67camaro 69213124 69camaro 73501505 74108520 74123698 741258963 741852963 74227422
7777777a 78945612 789456123 7894561230 78963214 789632145 789654123 7ugd5hip2j 890098890
8j4ye3uz 8phrowz622 911turbo 918273645 9293709b13 963258741 963852741 987456321 987654321a
987654321q 99762000 a1234567 a12345678 a123456789 a123456a a1a2a3a4 a1a2a3a4a5 a1b2c3d4
a1b2c3d4e5 a1s2d3f4 a1s2d3f4g5 aa123456 aaaa1111 aardvark abc12345 abc123456 abcd1234 abcdefg1
aberdeen abnormal abracadabra abrakadabra acapulco access14 access99 account1 achilles acidburn
adgjmptw admin123 adrenalin adventur aerosmit aerosmith agent007 airborne airforce airplane
alabama1 albatros alcatraz alejandr aleksander aleksandr aleksandra alessand alessandro alex1234
alexande alexander1 alexandr alexandre alexandru alfarome algernon aligator alkaline allblack
alleycat alligator allison1 allnight allstate alpha123 alphabet alphaman alterego amarillo
amateurs ambrosia america1 amethyst amoremio amsterda amsterdam anaconda anakonda anastasi
anastasiya andromed andromeda andyod22 angel123 angel666 angelito anhyeuem anna2614 antelope
anthony1 anthony2 anthony7 antigone antonio1 aolsucks apollo11 apollo13 apple123 applepie
aquafina aquarius arabella arcangel archange archangel architec argentin arizona1 armageddon
armagedon armstron arsenal1 as123456 asd12345 asdasd123 asdf1234 asdfasdf asdffdsa asdfg123
asdfg12345 asdfgh01 asdfghjk asdfghjkl asdfjkl; asdfqwer asdfzxcv asdqwe123 asmodeus aspirine
assassin assassins asshole1 assholes asslover assmunch astalavista astonvil atlanta1 atlantis
atreides augustin austin31 austin316 australi avalanch avalanche avangard awesome1 azertyui
azertyuiop azsxdcfv babemagn babemagnet baberuth babushka babybear babyblue babycake babydoll
babyface babygirl babylon5 babylove backbone backdoor badabing badkarma badnaamhere bajingan
balloons ballsack baltimor baracuda barbados barbara1 barcelon barcelona barefeet barefoot
baritone barracud barracuda barselona basebal1 baseball baseball1 basketba basketbal batman12
baywatch bcfields beachbum bearcats beatles1 beautifu beckham7 beefcake beethove bellagio
bendover benessere bergkamp bernhard bettyboo bettyboop bigballs bigblack bigblock bigboobs
bigbooty bigbucks bigbutts bigdaddy bigdick1 bigdicks bigmoney bignasty bigpenis bigpoppa
bigpussy bigtruck billabon billabong billybob billyboy binladen biohazard bionicle birthday4
bisexual bismarck bismilla bismillah bitchass black123 blackass blackbel blackbelt blackberry
blackbir blackbird blackboy blackcat blackcoc blackcock blackdog blackhaw blackhawk blackice
blackjac blackjack blacklab blackops blackout blahblah blaster1 blessed1 blessing blink182
blizzard blondie1 blondinka bloopers blowfish blue1234 blueball bluebell blueberr bluebird
blueeyes bluefish bluejays bluemoon bluenose bluesman bluestar bobafett bobdylan bobmarle
bobmarley bollocks bonehead bonethug boogaloo bookcase bookworm boomboom borabora bordeaux
boris123 borussia bradley1 brandon1 bravehea braveheart brighton broncos1 brooklyn brother1
browndog brucelee bruno123 bubba123 bubblegum bubbles1 buckeye1 buckeyes buckshot buckwhea
budapest buddy123 buddyboy buddydog budlight budweise budweiser buffalo1 bugsbunn bukowski
bulldawg bulldog1 bulldogs bullfrog bullseye bullshit bullwink bunghole buratino businessbabe
buster12 buttercu buttercup butterfl butterfly buttfuck butthead butthole bynthytn c3por2d2
cabernet cadillac calamity caliente californ caligula calimero callisto callofduty camaross
cambiami cambridg camelot1 cameltoe cameron1 candyass candyman cannabis cannibal cannonda
cantona7 capetown capital1 capitals capoeira capricor capricorn capslock captain1 cardinal
care1839 carebear carlitos carnival carolina carpedie carpediem carpente cartman1 cartoons
casablanca casanova caseydog cashflow cashmone cashmoney cassandr catdaddy catfight catherin
catwoman cavalier cbr600rr cbr900rr cdtnkfyf cerberus cezer121 cfitymrf chainsaw challeng
champion changeme chargers charisma charles1 charlie1 charlie123 charlie2 charlott charlton
checkers checkmat cheerleaers chelsea1 cherokee cherries cheshire chester1 chevelle chevrole
chevrolet chevys10 chewbacc cheyanne cheyenne chicago1 chicken1 chickens chickenwing101 chipmunk
chipper1 chocolat choochoo chopper1 choppers chris123 chrisbln chrissy1 christia christin
christma christop christophe chrysler chuckles churchil cinnamon citibank civilwar cjkysirj
clarinet classics claudia1 claymore cleopatr clevelan clippers clitoris close-up cnfybckfd
cobra427 cocacola cocksuck cocksucker coldbeer coldplay colombia colorado colossus coltrane
comanche comicbookdb commande commando computer computer1 concorde concrete consumer
contortionist control1 cooldude coolgirl coolhand coolness copenhag corleone cornhole corvet07
corvette costaric cosworth coventry cowboys1 cowboyup crazybab crazyman creampie creative
creepers crescent cricket1 crjhgbjy crocodil crusader crystal1 cucumber culinary cutiepie
cvbhyjdf cxfcnkbdfz cybersex cyclones cygnusx1 cynthia1 daedalus dagobert daisydog dallas22
dangerou daniel12 dannyboy daredevi daredevil darkange darkangel darklord darkness darkside
darkstar darthvad darthvader david123 davidoff daydream dbrnjhbz deadhead deadpool deadspin
death666 deathnote deathrow deborah1 deepblue deepthro deepthroat deerhunt deeznuts deeznutz
defender deftones delpiero demon666 derparol designer desperado destiny1 detectiv detroit1
deutschland devil666 devildog devilman devilmaycry dfcbkbcf dfktynby dfktynbyf dhjnvytyjub
diamante diamond1 diamonds dickhead dickweed dietcoke digital1 dilbert1 dilligaf dillweed
dima1995 dingdong dinosaur dipstick dirtbike dirtydog discover dkflbckfd dkflbvbh dkflbvbhjdbx
dkflbvbhjdyf doberman dodgeram dodgers1 doggydog doggystyle doghouse dogpound dolemite dolphin1
dolphins domainlock2005 domenico dominika dominion dominiqu dontknow doomsday doorknob dortmund
doughboy douglas1 downhill dragon01 dragon11 dragon12 dragon123 dragon13 dragon69 dragonba
dragonball dragonballz dragonfl dragonfly dragrace dragster dreamcas dreamcast dreamer1
drjynfrnt dropdead dropkick drowssap drpepper drummer1 dthjybrf dtkjcbgtl dtxyjcnm ducati99
duckhunt duracell dutchess dutchman dynamite earnhard earthlin earthlink eastside eastwood
eatmenow eatpussy eclipse1 edinburg eggplant eightbal einstein ejaculation ekaterina elbereth
elcamino eldiablo eldorado electric electron element1 elephant eleven11 elisabet elizabet
elizaveta elvis123 embalmer emmitt22 enforcer engineer england1 enter123 enternow enterpri
enterprise envision erection ericsson escalade escorpio espresso eternity ethernet euphoria
evanescence evangeli evangelion evergree everlast everques everquest everton1 evildead evolutio
excalibu excalibur excellen explorer express1 f00tball f15eagle fabienne facefuck failsafe
fairlane fakepass falstaff fandango fantasia fantasti fantasy1 fantomas farscape fastball
fastcars favorite2 favorite6 fearless feathers feelgood fellatio ferrari1 fgtkmcby fhvfutljy
fidelity finalfantasy fireball firebird fireblad fireblade firefigh firehawk fireman1 firestar
firestorm firewall fishbone fishcake fisherma fisherman fishface fishhead fishing1 fishtank
fivestar fkbyjxrf fktrcfylh fktrcfylhf fktyeirf flamengo flamingo flashman flathead flexible
flipflop flipmode flipper1 florida1 flounder flowers1 flvbybcnhfnjh flyers88 football football1
footlove fordf150 fordf250 fordf350 fordtruc foreplay foreskin forever1 forgetit formula1
forsaken foxylady francesc francis1 francisc frank123 frankie1 freckles fred1234 frederik
freebird freedom1 freedom2 freefall freepass freeporn freeuser freewill freiheit frenchie
friday13 friends1 friendster front242 frontier fruitbat fuck_inside fuckedup fuckface fuckhead
fuckinside fuckme69 fuckmehard fuckoff1 fuckshit fuckthat fuckthis fuckyeah fuckyou1 fuckyou2
fujifilm fullback fullmoon funstuff funtimes fussball futurama futyn007 fuzzball fyfcnfcbz
fyfnjkbq fynjybyf fyutkbyf fyutkjxtr gabriel1 gabriell galeries gallaries gamecock gamecube
gameover gandalf1 gangbang gangbanged gangster ganjaman gannibal garfield gargoyle gateway1
gateway2 gatorade gbgbcmrf gbhfvblf geibcnbr general1 genesis1 georgia1 geraldin germany1
geronimo gesperrt getmoney gfgfvfvf gfhjkm12 gfhjkm123 gfhjkmgfhjkm ghbdtn123 ghbdtnbr
ghbdtndctv ghbdtnrfrltkf ghblehjr ghbywtccf ghhh47hj7649 ghjcnbnenrf ghjcnjgfhjkm ghjcnjnfr
ghjdthrf ghjnjnbg ghjuhfvvf ghostrider gianluca gigabyte ginscoot girfriend giveitup gizmodo1
gladiato gladiator glendale glennwei glenwood gn56gn56 gobigred godbless godfathe godfather
godsmack godspeed godzilla gogators goldeney goldeneye goldfing goldfish goldrush goldstar
goldwing golfball golfclub good123654 goodfell goodgirl goodison goodlife goodluck goodtime
goodyear goofball gooseman gordon24 gorillaz gotigers gotohell gotyoass grandpri grapeape
graywolf greatone greatsex greedisgood green123 greenbay greenday greenman greentea gregory1
greyhoun greywolf groupd2013 gsxr1000 gtnhjdbx guardian guesswho guillaum guillerm guinness
gulliver gymnastic hairball halflife hallo123 hallowee handball handyman hannibal hannover
happines happy123 happyday happydog happyman hardball hardcock hardcore harddick hardrock
hardwood hardwork harrypotter hatteras hattrick hawaii50 hawaiian hawkeye1 hawkeyes hawkwind
hawthorn hayabusa hd764nw5d7e1vb1 headless headshot heather1 heather2 hedgehog heineken heinlein
hellfire hello123 hellohel hellokitty hellsing hellyeah hercules herewego hermione hernande
hershey1 hetfield highbury highheel highland highlander highlife hillbill hillside hitman47
hogwarts holiday1 hollywoo holyshit homebrew homemade homepage homer123 hondacbr honeybee
honeybun honeydew hongkong honolulu hooligan hoosiers hooters1 hornyguy hornyman horseman
horsemen hotbabes hotchick hotgirls hotpussy hotstuff hounddog housewife housewifes houston1
htubcnhfwbz hugetits hugoboss hulkster hunter12 hurrican huskers1 hyperion ibilltes icecream
icehouse idontkno idontknow ignatius ihateyou ijrjkflrf ilikepie ilikesex illmatic illusion
ilovegod iloveporn ilovepussy ilovesex iloveyou iloveyou1 iloveyou2 ilya1234 immortal impalass
implants imtheman india123 infiniti infinity insertion insertions insomnia inspiron interacial
intercourse internet intrepid intruder inuyasha invictus ireland1 irishman ironhors ironmaiden
ironman1 islander istanbul istheman italiano iverson3 j3qq4h7h2v jackass1 jackson1 jackson5
jakester jamaica1 james007 james123 jamesbon jamesbond january1 japanees jasmine1 jason123
jayhawks jbond007 jediknig jeepster jefferso jeffrey1 jellybea jellybean jennifer1 jessica1
jessica2 jesus123 jesus777 jiggaman johannes johncena johndeer johngalt johnson1 jordan23
josephin joystick junkmail jupiter1 jupiter2 jurassic just4fun justdoit justice1 justinbieber
juventus kakashka kamasutra kamikadze kamikaze kangaroo karolina katarina katerina kawasaki
kazanova kazantip kcchiefs kcj9wx5n kenneth1 kennwort kenworth kevin123 keyboard keystone
kfcnjxrf kickflip kicksass kikimora killbill killer12 killer123 killzone kingfish kingkong
kingston kissmyas kissmyass kittycat kittykat kjrjvjnbd kleopatra klondike knickerless knickers
knockers knuckles komputer konstantin kordell1 koroleva krasotka kristen1 kristin1 krokodil
l58jkdjp! labrador lacrimosa lacrosse ladybird laetitia lagwagon lakers24 lakeside lakewood
lalakers lambchop lamborghini lancaste lancelot landrove lapochka laracroft laserjet lasttime
lasvegas lavalamp leavemealone lebowski lebron23 leedsutd left4dead lemmings lemonade lenochka
leonidas lesbians letmein1 letmein2 letmeinn letmesee letsdoit letsfuck letsplay lfitymrf
libertad liberty1 lifehack lifeisgood lighthou lightnin lightning lilwayne limewire lincoln1
lindsay1 lindsey1 lineage2 lionhear lionheart lionking littlema livelife liverpoo liverpool
liverpool1 livewire ljxtymrf lockdown lockerroom logitech loglatin lokomotiv lol12345 lollipop
lollypop lonesome lonestar lonewolf longdong longhair longhorn longhorns longjohn longshot
losangel losangeles lotus123 love1234 lovehate lovelife loveme89 loverboy loverman loveyou2
lowrider lucky123 luckydog luckyone ludacris lunchbox luscious luv2epus macaroni macdaddy
macgyver machoman macintos macintosh mackenzi madagaskar madala11 maddison madison1 madonna1
magellan magic123 magician magicman mahalkita mailcreated5240 majestic makaveli makeitso
maksimka mallorca mallrats mamacita mamapapa mamochka manager1 manchest manchester mandarin
mandingo mandolin mandrake manhatta mannheim manunited maradona marajade marathon marauder
marcello marcius2 margarit marijuan marijuana mariners marines1 marino13 mariposa marishka
marketin marlboro marseill marseille maryjane masamune maserati mash4077 master12 master123
masterbaiting masterbate masterbating masterkey mastermi mastermind masturbation matchbox
matthew1 matthias maurizio maurolarastefy maverick maximilian maximus1 maxpayne maxpower
maxwell1 mazafaka mazda323 mazda626 mazdarx7 meandyou meatball meathead meatloaf mechanic
megadeth megapass megatron melanie1 melissa1 meowmeow mephisto mercedes mercury1 meridian
mersedes metallic metallica metallica1 michael1 michael2 michele1 michelle1 michigan microlab
microphone microsof microsoft midnight mike1234 milamber milhouse milkyway millenium millwall
minecraft minimoni minnesot miranda1 mischief misfit99 misiaczek mississi mistress mobydick
modelsne mojojojo molly123 mollydog momsanaladventure monalisa money123 moneyman mongoose
monique1 monkey11 monkey12 monkey123 monkey69 monkeybo monkeyboy monkeyma monkeyman monolith
monopoly monster1 montana1 montecar montecarlo monterey montgom240 montreal montrose moonbeam
moonligh moonlight moonshin moonshine morozova morpheus morrowind mortgage morticia mortimer
motdepasse motherfu motherlode motocros motocross motorcyc motorola mountain mudvayne muffdive
multiplelo munchkin mushroom music123 musicman mustang1 mustang2 mustang5 mustang6 mustang8
mustang9 mustangs myfriend mynameis mypasswo mypassword mysecret myspace1 myxworld nadezhda
nancy123 nascar24 nastenka natalie1 natascha natasha1 natedogg nathanie naughty1 nautilus
navigato navigator navyseal nbuhtyjr ncc1701a ncc1701d ncc1701e ncc74656 nebraska needforspeed
nemesis1 nemrac58 netscape nevermin nevermind nevermor nevermore newcastl neworder newpass1
newpass6 newport1 newproject2004 newstart newyork1 nicetits nightmar nightowl nightwin nightwish
nineball nineinch nintendo nirvana1 nocturne nokia123 nokia5130 nokia5230 nokia5530 nokia5800
nokia6233 nokia6300 nokian73 noname123 nonmembe nopassword normandy nosferatu nostromo notebook
nothing1 notredam nounours novifarm novikova nthvbyfnjh ntktdbpjh nuttertools nwo4life nygiants
nyyankee oblivion obsidian october1 omegared onepiece open1234 opendoor operator optimist
optiplex outsider overkill overlord p0015123 p0o9i8u7 p455w0rd p4ssw0rd p@ssw0rd pa55w0rd
pa55word packard1 packers1 paintbal paintball pakistan paladin1 pallmall palmtree panasoni
panasonic pandora1 panorama pantera1 panther1 panthers panties1 pantyhos pantyhose papabear
papamama paperino papillon paradigm paradise paramedi paramore parlament parsifal partizan
pasadena pass1234 passcode passmast passport passthie passw0rd passwerd passwor1 password
password01 password1 password11 password12 password123 password2 password3 password9 password99
passwords passwort patches1 pathfind pathfinder patrick1 patriots patrizia patterso pavement
pavilion payton34 peaceout peaches1 pearljam peekaboo pegasus1 penetrating penetration penguin1
penguins pennstat pennywis penthous pepsi123 peregrin perfect1 pertinant peterbil peternorth
peterpan petrovich phaedrus phantom1 pharmacy phialpha philippe phillies phoenix1 phoenix2
pianoman pictuers piercing pimpdadd pimpdaddy pimpster pineappl pineapple pinetree pingpong
pinkfloy pinkfloyd pinnacle pipeline pippen33 piramida pitchers pizzahut pizzaman plastics
platinum platypus playball playboy1 playboy2 playmate playstat playstation playtime plymouth
poiuytrewq pokemon1 pokemon123 polaroid polniypizdec0211 pontiac1 poohbear pool6123 poontang
poophead popcorn1 porkchop pornking pornographic pornpass pornstar porsche1 porsche9 porsche911
portland portugal poseidon power123 powerman preacher precious predator prelude1 presario
presiden princesa princess princess1 princessa princeto pringles priscill private1 priyanka
pufunga7782 pumpkin1 pumpkins punisher punkrock puppydog pussy123 pussy4me pussycat pussyeat
pussylover pussyman pyramid1 pyramids q1234567 q123456789 q1q2q3q4 q1q2q3q4q5 q1w2e3r4
q1w2e3r4t5 q1w2e3r4t5y6 q2w3e4r5 qawsedrf qawsedrftg qaz12345 qaz123wsx qazwsx12 qazwsx123
qazwsxed qazwsxedc qazwsxedc1 qazwsxedc123 qazwsxedcrfv qazwsxedcrfvtgb qazxsw12 qazxsw123
qazxswedc qq123456 quant4307s qw123456 qwaszx12 qwe123qwe qweasd123 qweasdzx qweasdzxc
qweasdzxc123 qwedsazxc qwer1234 qwerasdf qwerasdfzxcv qwert123 qwert12345 qwerty11 qwerty12
qwerty123 qwerty1234 qwerty12345 qwerty123456 qwerty13 qwerty77 qwerty777 qwerty78 qwerty99
qwertyui qwertyuio qwertyuiop r2d2c3p0 r2d2c3po r4e3w2q1 radiohea radiohead ragnarok raiders1
rainbow1 rainbow6 rainbows raindrop rainyday raistlin rammstei rammstein ramstein rangers1
rapunzel rasputin rastaman raymond1 rb26dett rdfhnbhf realmadrid rebbyt34 rebecca1 reckless
redalert redbaron reddevil reddwarf redheads redlight redneck1 redskins redstorm redwings
reloaded remingto renegade rerfhtre revival47 revoluti revolver rfgbnjirf rfhfvtkmrf rfhfylfi
rfhlbyfk rfhnjirf rfnthbyf rfntymrf rfvfcenhf rhbcnbyf rhfcfdbwf rhfcjnrf rhjrjlbk rhtdtlrj
riccardo richard1 rickster riffraff rightnow riverrat riversid rjhjktdf rjirfrgbde rjycnfynby
rktjgfnhf roadkill roadking roadrunn roadrunner roadster robinhood robotech robotics rockford
rockhard rocknrol rocknroll rockstar rocky123 rolltide romanova romashka ronaldinho roosters
rootbeer rootedit rosebud1 rosewood rsalinas rt6ytere runescape rush2112 rushmore russell1
russian7 rustydog saab9000 sabrina1 sailboat salamander salasana saltydog salvator samadams
samantha samantha1 sammy123 sammydog samsung1 sandiego sandman1 sandrine sanity72 santacru
sapphire sarajevo saratoga sasha123 sasha_007 satan666 satellit sausages saxophon scarface
scheisse schnuffi scirocco scoobydo scoobydoo scooter1 scorpio1 scorpion scorpions scotland
scrabble scrapper screamer screwyou seahawks seahorse sealteam seattle1 sebastia sebastie
security seductive segblue2 seinfeld seminole semperfi senators sentinel sephirot sephiroth
septembe seraphim serenity sergbest sersolution service1 sevenof9 sexsexse sexybabe sexybitch
sexygirl sexylady sexymama sfgiants shadow01 shadow12 shamrock shaney14 shannon1 sheepdog
sherlock shevchenko shinigami shitface shitfuck shithead shotokan showtime shredder sidekick
sidewind sigmachi silverad silverado simpsons singapor sinister sithlord sixtynin sk8ordie
skateboard skeeter1 skinhead skipper1 skittles skorpion skydiver skywalke skywalker slamdunk
slapnuts slapshot slimshad slimshady slipknot slippery slowhand smackdow smackdown smartass
smashing smeghead smirnoff smirnova smoke420 smokedog smoothie snakeman snapshot sneakers
snickers snoopdog snoopdogg snowball snowbird snowboar snowboard snowflak snowflake snowman1
snuggles soccer10 soccer11 soccer12 soccer13 socrates softball softtail software sojdlg123aljg
sokolova solitude solnishko songbird sonyericsson sonyfuck sonyvaio sooners1 sopranos
soso123aljg soulmate southpar southpark southpaw southside spaceman spanking sparhawk sparkles
spartan1 spartan117 spartans special1 specialk spectrum spencer1 spiderma spiderman spiderman1
spitfire splatter splinter spongebo spongebob sprinter sprocket squerting squirrel srinivas
stallion stamford stanislav stanley1 starbuck starbucks starcraf starcraft stardust starfire
starfish stargate starligh starlight starlite starship start123 startrek starwars starwars1
steelers stephani stephen1 stewart1 stickman stigmata stiletto stinger1 stingray stocking
stonecol stonecold stonewal stoppedby stranger stratfor strawber strawberry streaming stripper
sublime1 submarin success1 suckcock suckdick suckmydick summer12 summer69 summer99 summertime
sundance sunderla sundevil sunflowe sunflower sunlight sunnyday sunshine sunshine1 super123
superbow superfly superman superman1 supernov supernova supersonic supersta superstar surveyor
survivor svetlana swallows sweetass sweetnes sweetness sweetpea swimming swingers swinging
swordfis swordfish sylveste syncmaster syracuse tacobell taekwondo tailgate takamine talisman
tamerlan tampabay tangerin tarheels tazmania teacher1 teamwork technics tecumseh teddybea
teddybear telephon temppass temptress tenerife tennesse tequiero terminat terminator terrapin
terriers test1234 testibil testing1 testpass thailand thanatos thankyou thebeast theclash
thedoors theforce thegreat therock1 thesaint thething thetruth thirteen thisisit threesom
thuglife thumbnils thumper1 thunder1 thunderb tiberian tiberius tickling ticklish ticktock
tiffany1 tiger123 tigercat timelord timothy1 timoxa94 tinkerbe tinkerbell titanium titleist
tkbpfdtnf tokiohotel tomahawk tommyboy tomservo tonyhawk tooltime toonarmy topolino topsecre
topsecret toriamos tortoise tottenha tottenham toulouse trailers transexual translator traveler
treasure treefrog trfnthbyf triangle trinitro trinitron trinity1 triplets trojans1 trombone
trooper1 trouble1 trousers trucker1 trucking trueblue truelove truffles trumpet1 trustno1
tryagain tunafish turkey50 twilight ufhvjybz uhbujhbq ultimate ultraman umbrella uncencored
underdog undertak undertaker undertow unicorn1 universa universi ursitesux username usmarine
usmc0311 usuckballz1 utahjazz vacation vagabond valentin valentina valeriya valhalla valkyrie
valleywa vampire1 vancouve vanessa1 vanguard vanhalen vaseline vasilisa vauxhall vegas123
vendetta verbatim veronika verygood vfhbyjxrf vfhnsirf vfhufhbnf vfitymrf vflfufcrfh vfnbkmlf
vfntvfnbrf vfpfafrf vfrcbvrf vfvfgfgf vfylfhby victory1 viewsoni viewsonic vikings1 viktoria
viktoriya vincent1 violator violetta vipergts virginie vivitron vjqgfhjkm vkontakte vladimir
vladislav vodafone volkodav volkswag volkswagen volleyba voyager1 vqsablpzla vsjasnel12
wachtwoord waffenss wanderer wapapapa warcraft warcraft3 wareagle warhamme warhammer warrior1
warriors washingt waterboy waterfal waterloo watermelon waterpolo waterski wdtnjxtr weare138
webhompas webmaste webmaster websol76 websolutions wednesda welcome1 welcome2 wellhung wellingt
werewolf westside westwood wetpussy wg8e3wjf whatever whiplash whiskers whistler whiteboy
whiteout whitesox whocares whoknows wildbill wildcard wildcats wildfire wildwood william1
william2 winchest windmill windows1 windsurf wingchun wingzero winston1 winter99 wishbone
wolfgang wolfpack wolverin wolverine wonderboy wonderfu woodland woodstoc woodstock woodwork
woofwoof wordpass worldcup wp2003wp wrangler wrestlin wrinkle1 wrinkles x72jhhu3z yamahar1
yamahar6 yankees1 yankees2 yaroslav yeahbaby yesterda yfcntymrf yfnfitymrf yjdsqgfhjkm yogibear
yorktown yosemite youandme yourmama ytngfhjkz z1x2c3v4 z1x2c3v4b5 zachary1 zanzibar zaq12345
zaq12wsx zaq1xsw2 zaqwsxcde zaqxswcde zeppelin zerocool zildjian zolushka zxasqw12 zxcasdqwe
zxcasdqwe123 zxcv1234 zxcvasdf zxcvb123 zxcvb12345 zxcvbnm1 zxcvbnm123 zxcvvcxz zz8807zpl
)words";
  return kAll;
}

}  // namespace gp
