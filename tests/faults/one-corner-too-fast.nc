(threadwright 0.1.0: finishing press, round)
(job digest 30d6-0bea-ec0c-7e3f)
(program 1 of 6)
(blank: hornbeam, octagon, 54.00 mm, 440.00 mm long, of which 20.00)
(mm beyond the nose)
(held: 35.00 mm of it in the chuck, tail centre 20.00 mm across)
(cutter: straight, 20 mm, two edges, straight, 20.00 mm across,)
(sticking out 55.00 mm)
(spindle 9500 rev/min, feed 1800 mm/min round the blank under the)
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
(X -367.3542 to 32.0 mm)
(Z 25.0 to 55.0 mm)
(A -337.5 to 14764.253 degrees)
(about 13 minutes)
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
G0 X32.0
G0 A0.0
M3 S9500
G4 P6.0
(round: 8 corners, level 1 of 2, Z 28.50 mm above the axis)
G0 A22.5
G0 Z29.5
G1 Z28.5 F600.0
G1 X-367.3542 F9.90728
G0 Z34.2246
G0 X32.0
G0 A67.5
G0 Z29.5
G1 Z28.5 F600.0
G1 X-367.3542 F4.50728
G0 Z34.2246
G0 X32.0
G0 A112.5
G0 Z29.5
G1 Z28.5 F600.0
G1 X-367.3542 F4.50728
G0 Z34.2246
G0 X32.0
G0 A157.5
G0 Z29.5
G1 Z28.5 F600.0
G1 X-367.3542 F4.50728
G0 Z34.2246
G0 X32.0
G0 A202.5
G0 Z29.5
G1 Z28.5 F600.0
G1 X-367.3542 F4.50728
G0 Z34.2246
G0 X32.0
G0 A247.5
G0 Z29.5
G1 Z28.5 F600.0
G1 X-367.3542 F4.50728
G0 Z34.2246
G0 X32.0
G0 A292.5
G0 Z29.5
G1 Z28.5 F600.0
G1 X-367.3542 F4.50728
G0 Z34.2246
G0 X32.0
G0 A337.5
G0 Z29.5
G1 Z28.5 F600.0
G1 X-367.3542 F4.50728
G0 Z34.2246
(round: 8 corners, level 2 of 2, Z 25.50 mm above the axis)
G0 X32.0
G0 Z26.5
G1 Z25.5 F600.0
G1 X-367.3542 F4.50728
G0 Z34.2246
G0 X32.0
G0 A292.5
G0 Z26.5
G1 Z25.5 F600.0
G1 X-367.3542 F4.50728
G0 Z34.2246
G0 X32.0
G0 A247.5
G0 Z26.5
G1 Z25.5 F600.0
G1 X-367.3542 F4.50728
G0 Z34.2246
G0 X32.0
G0 A202.5
G0 Z26.5
G1 Z25.5 F600.0
G1 X-367.3542 F4.50728
G0 Z34.2246
G0 X32.0
G0 A157.5
G0 Z26.5
G1 Z25.5 F600.0
G1 X-367.3542 F4.50728
G0 Z34.2246
G0 X32.0
G0 A112.5
G0 Z26.5
G1 Z25.5 F600.0
G1 X-367.3542 F4.50728
G0 Z34.2246
G0 X32.0
G0 A67.5
G0 Z26.5
G1 Z25.5 F600.0
G1 X-367.3542 F4.50728
G0 Z34.2246
G0 X32.0
G0 A22.5
G0 Z26.5
G1 Z25.5 F600.0
G1 X-367.3542 F4.50728
G0 Z34.2246
(round: level 1 of 2, diameter 51.00 mm)
G0 X32.0
G0 Z26.5
G1 Z25.5 F600.0
G1 X-367.3542 A14399.253 F0.280769
G1 A14764.253 F11.0806
(round: level 2 of 2, diameter 50.00 mm)
G1 Z25.0 A14404.253 F11.3456
G1 A14039.253 F11.3022
G1 X32.0 A-337.5 F0.286362
G0 Z34.2246
G0 Z55.0
M5
G94
M2
