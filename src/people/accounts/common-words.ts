/**
 * Words that published lists of much-used passwords are full of: given names, what people love, seasons, animals, food,
 * play, faith, swearing. From memory, without names of makers, teams and persons; no list was at hand to take them from,
 * so that this is no measure of any (OWASP ASVS 5.0, 6.2.4).
 */
export const commonWords: readonly string[] = `
  adore adventure airplane alex alexander alexandra alexis alice allah always amanda amazing amber amen america
  american amethyst amor amore andrea andrew angel angela angelina angels animal anna anthony antonio anything
  apollo apple april archer arizona arsenal atlantis august austin australia avenger awesome baby babyboy babygirl
  bailey baller banana bananas bandit barbara barcelona basket bear beatrice beautiful beauty beloved benjamin berry
  bestfriend bestfriends bible bicycle bird birdie birthday biscuit bismillah bitch black blackberry blessed
  blessing blizzard blue blueberry bobby bonjour bowling boxing boyfriend brandon brazil bread brian brittany bronze
  brooklyn brother bruce bubbles buddy bunny butter buttercup butterfly calculus california camera canada canary
  cancer candy captain caramel carolina caroline carpenter carrot cartoon catherine celebrate champion champions
  change cheese cheesecake cheetah chelsea chemistry cherry chess chicago chicken chocolate chopper chris christ
  christian christina christine christmas christopher church cinnamon claire classic claudia cloud clover cobalt
  coconut coffee college color colorado colours commander communication connection control cookie cookies cosmic
  cougar counter country courage cowboy coyote crazy cream creative cricket crimson crocodile cruise crystal cupcake
  cutie cyber daddy daisy dallas dancer dancing danger daniel danielle darkness darling daughter david daylight
  dearest death deborah december delete demon dennis design destiny destroyer devil diamond diamonds diana digital
  discover divine doctor dollar dolphin dolphins dominic donald donkey dorothy dream dreamer dreams driver drummer
  eagle eagles earth easter eclipse edward eleanor electric element elephant elizabeth emerald emily emma energy
  engineering england enterprise epic eric escape estrella eternal eugene everyone everything evolution excellent
  explorer express extreme faith falcon family fantasy father february fernando fighter fireball firefly fireman
  fishing flamingo flash florence florida flower flowers forest forever fortune france frances francis frank
  franklin freedom friday friend friends friendship froggy frozen fuck fuckyou future gabriel gabriela gabriella
  galaxy gamer gaming garden garfield gateway genesis genius george georgia germany ghost ginger giraffe girlfriend
  gladiator gloria gold golden golf golfer goodbye goodday goodluck goodmorning goodnight gorilla gospel grace
  graduate grandma grandmother grandpa grapes gravity green gregory guitar gymnast hacker hallelujah halloween
  hammer hamster hannah happiness happy harmony harold harry hateyou hawaii hawk heart hearts heather heaven
  heavenly hedgehog helen helloworld henry hero hidden highway history hollywood holy homework honey horizon horse
  horses hottie houston hugs hummingbird hunter hunting hurricane husband icecream illusion imagine immortal
  impossible india infinite infinity inside intelligence invincible ireland isabel isabella italia jack jackson
  jacob jaguar jamaica james jamie janet january jasmine jason jeremy jessica jesuschrist joanna john johnny
  jonathan jordan joseph joshua journey julia julian july jumper june jungle justice justin kangaroo karen katherine
  kathleen katie kelly kenneth kevin keyboard killer kimberly king kingdom kisses kitten kitty knight knowledge
  kristen kristina labrador lacrosse ladybug language laptop lasagna laughter laura lauren lavender legend lemon
  lemonade leonardo leopard library lifetime light lightning lilac linda lindsay lion lions lisa lizard lollipop
  london lord lotus louise lovely loveme lover lovers loveyou lucas lucky machine madison madness madrid magenta
  magic magician mamma manchester mango mankind march margaret maria marie marigold marina marine mariposa mark
  marriage marshmallow martin martina marvelous mary matthew maxwell megan melanie melissa melon memories mercury
  mercy merry messiah metal mexico michelle michigan midnight miguel milkshake miracle mission missyou mobile
  mockingbird modern moment mommy money monica monster montana moon moonlight morgan morning mother motorcycle
  mountain mouse movie muffin mummy music musician myself mystery natalie nathan nature naughty network nevada never
  newyork nicholas nicole nightmare ninja nobody noodle north nothing november number numbers ocean october octopus
  officer oklahoma olivia ontario open optimist orange oranges orchid oregon oscar outlaw outside pacific pamela
  pancake panda panther panthers paradise paris parrot passion patricia patrick paul peace peaches peanut pearl
  penguin penguins pepper perfect person personal personality peter petunia phantom philadelphia philip phoenix
  photo pickle picture pineapple pink pirate pirates pizza planet platinum playboy player please poker pokerface
  police pony popcorn popular potato power pray prayer precious prince princesa private professor promise pumpkin
  punisher puppies puppy purple puzzle quality queen question qwert rabbit raccoon racer rachel racing radio rainbow
  random ranger rangers raspberry raven raymond rebecca rebel red redhot remember research revolution richard rider
  river robert roberto rocket rockstar rodriguez roger romance ronald rooster rose rosemary roses ruby rugby runner
  runners running ruth ryan sailor samantha samuel samurai sandra sandwich sapphire sarah saturday saturn savior
  scarlet school science scorpion scotland scott sebastian security september serenity sergio service sexy shalom
  shark sharon shining shit silver simple sister sisters skate skateboard skateboarding skater skating skyline
  slayer smile smoke snake sniper snow snowball snowboard snowflake snowman softball soldier someone something
  sophia sophie south spaghetti spain sparkle sparrow special spencer spider spirit squirrel stallion star starlight
  stars stephanie stephen steven stranger strawberry street stronger student success sugar sunday sunflower sunlight
  sunny sunset super supernova superstar surfer surfing surprise susan sweet sweetheart sweetie sweetness swimming
  swordfish sydney system taylor teacher technology telephone television tennis tequila teresa texas thanks theresa
  thomas thunder thunderbird thunderstorm thursday tiffany tiger tigers time timothy titanic together tokyo tomato
  tomorrow tornado toronto tortoise trinity trouble tuesday tulip turquoise turtle twilight twister tyler
  unbelievable undertaker unicorn unicorns united universal universe unknown vacation valentina valentine valeria
  vampire vanessa vanilla veronica victor victoria victory vincent violet viper virginia vision volcano volleyball
  waffle walter warrior warriors washington water watermelon wedding wednesday weekend wesley whale whiskey white
  wicked wife wildcat william window windows winner wisdom wizard wolf wolverine wolves wonder wonderful world
  wrestling xavier yellow yesterday young zachary
`
  .trim()
  .split(/\s+/);
