(threadwright 0.1.0: finishing press, tenon)
(job digest 30d6-0bea-ec0c-7e3f)
(program 6 of 6)
(done before: round, relief, thread, chamfer, garter)
(blank: hornbeam, octagon, 54.00 mm, 440.00 mm long, of which 20.00)
(mm beyond the nose)
(held: 35.00 mm of it in the chuck, tail centre 20.00 mm across)
(cutter: straight, 20 mm, two edges, straight, 20.00 mm across,)
(sticking out 55.00 mm)
(spindle 9500 rev/min, feed 1680 mm/min round the blank under the)
(cutter)
(machine: the long bench)
(F: G93, one over the minutes that the line takes)
(X0: nose face, X counts down towards the headstock)
(Y0: cutter straight above the axis of rotation, set before the start)
(Z0: axis of rotation)
(A0: start 1 at the nose face, a flat of the blank on top, mark blank)
(and chuck there)
(park before the start: cutter above the nose, Z at the top of its)
(travel, A0 at the mark)
(check by hand: jog A from 0 to +90, the top of the blank must move)
(to the front, or else the thread winds the wrong way)
(X -367.3542 to -335.0 mm)
(Z 14.0 to 55.0 mm)
(A 0.0 to 2254.753 degrees)
(about 2 minutes)
(dust of hornbeam: no special hazard found in what was read, which)
(does not mean that there is none)
(all wood dust can cause cancer: extract it, wear a mask made for)
(fine dust)
(care: read safety.md first)
(the first run in the air, spindle off, one hand at the stop)
(eyes covered, sleeves and hair tied, nobody near the turning blank)
G21
G17
G40
G49
G54
G80
G90
G93
G0 Z55.0
G0 X-335.0
G0 A0.0
M3 S9500
G4 P6.0
(tenon: approach)
G0 Z26.0
G1 Z25.5 F1120.0
(tenon: level 1 of 4, diameter 45.00 mm)
G1 Z22.5 A360.0 F11.1386
G1 A725.0 F11.7208
G1 X-367.3542 A1889.753 F3.6638
G1 A2254.753 F11.7208
(tenon: level 4 of 4, diameter 34.00 mm)
G1 Z17.0 A1894.753 F15.5001
G1 A1529.753 F15.5128
G1 X-335.0 A365.0 F4.8401
G1 A0.0 F15.5128
G0 Z34.2246
(tenon: flat 1 of 4)
G0 X-367.3542
G0 Z18.0
G1 Z17.0 F560.0
G1 X-335.0 Z14.5 F51.7709
G1 X-367.3542 Z14.0 F51.919
G1 X-335.0 F51.9252
G0 Z34.2246
(tenon: flat 2 of 4)
G0 X-367.3542
G0 A90.0
G0 Z18.0
G1 Z17.0 F560.0
G1 X-335.0 Z14.5 F51.7709
G1 X-367.3542 Z14.0 F51.919
G1 X-335.0 F51.9252
G0 Z34.2246
(tenon: flat 3 of 4)
G0 X-367.3542
G0 A180.0
G0 Z18.0
G1 Z17.0 F560.0
G1 X-335.0 Z14.5 F51.7709
G1 X-367.3542 Z14.0 F51.919
G1 X-335.0 F51.9252
G0 Z34.2246
(tenon: flat 4 of 4)
G0 X-367.3542
G0 A270.0
G0 Z18.0
G1 Z17.0 F560.0
G1 X-335.0 Z14.5 F51.7709
G1 X-367.3542 Z14.0 F51.919
G1 X-335.0 F51.9252
G0 Z34.2246
G0 Z55.0
M5
G94
M2
