(threadwright 0.1.0: standing press)
(screw: right-hand, 3 starts, lead 42.00 mm, pitch 14.00 mm)
(crest 70.00 mm, root 60.67 mm, crest flat 3.00 mm)
(blank: hornbeam, round, 70.00 mm, 641.00 mm long, of which 20.00 mm beyond the nose)
(cutter: 90 degree V, 1.5 mm flat, 90 degrees, flat tip 1.50 mm, sticking out 52.00 mm)
(spindle 10000 rev/min, feed 3000 mm/min along the helix at the crest)
(machine: the loft bench)
(X0: nose face, X counts down towards the headstock)
(Y0: cutter straight above the axis of rotation, set before the start)
(Z0: top of the finished cylinder, 35.00 mm above the axis of rotation)
(A0: start 1 at the nose face)
(check by hand: jog A from 0 to +90, the top of the blank must move to the back, or else the thread winds the wrong way)
(X -441.0 to 27.5 mm)
(Z -4.6651 to 40.0 mm)
(A -5220.0 to 6955.7143 degrees)
(about 37.9 minutes)
(care: read safety.md first)
(the first run in the air, spindle off, one hand at the stop)
(eyes covered, sleeves and hair tied, nobody near the turning blank)
N5 G21
N10 G17
N15 G40
N20 G49
N25 G54
N30 G80
N35 G90
N40 G93
N45 G0 Z40.0
N50 G0 X27.5
N55 G0 A235.7143
(switch the spindle on at 10000 rev/min and wait until it has its speed, then let the program go on)
N60 M0
(start 1 of 3, pass 1 of 5, depth 1.76 mm)
N65 G0 Z5.0
N70 G1 Z-1.7629 F147.865
N75 G1 X25.5 A218.5714 F281.392
N80 G1 X-420.0 A-3600.0 F1.26327
N85 G1 X-441.0 Z0.5 A-3780.0 F26.7938
N90 G0 Z5.0
(start 2 of 3, pass 1 of 5, depth 1.76 mm)
N95 G0 X27.5
N100 G0 A6955.7143
N105 G1 Z-1.7629 F147.865
N110 G1 X25.5 A6938.5714 F281.392
N115 G1 X-420.0 A3120.0 F1.26327
N120 G1 X-441.0 Z0.5 A2940.0 F26.7938
N125 G0 Z5.0
(start 3 of 3, pass 1 of 5, depth 1.76 mm)
N130 G0 X27.5
N135 G0 A2875.7143
N140 G1 Z-1.7629 F147.865
N145 G1 X25.5 A2858.5714 F281.392
N150 G1 X-420.0 A-960.0 F1.26327
N155 G1 X-441.0 Z0.5 A-1140.0 F26.7938
N160 G0 Z5.0
(start 1 of 3, pass 2 of 5, depth 2.72 mm)
N165 G0 X27.5
N170 G0 A-1204.2857
N175 G1 Z-2.7237 F129.471
N180 G1 X25.5 A-1221.4286 F281.392
N185 G1 X-420.0 A-5040.0 F1.26327
N190 G1 X-441.0 Z0.5 A-5220.0 F26.7882
N195 G0 Z5.0
(start 2 of 3, pass 2 of 5, depth 2.72 mm)
N200 G0 X27.5
N205 G0 A6955.7143
N210 G1 Z-2.7237 F129.471
N215 G1 X25.5 A6938.5714 F281.392
N220 G1 X-420.0 A3120.0 F1.26327
N225 G1 X-441.0 Z0.5 A2940.0 F26.7882
N230 G0 Z5.0
(start 3 of 3, pass 2 of 5, depth 2.72 mm)
N235 G0 X27.5
N240 G0 A2875.7143
N245 G1 Z-2.7237 F129.471
N250 G1 X25.5 A2858.5714 F281.392
N255 G1 X-420.0 A-960.0 F1.26327
N260 G1 X-441.0 Z0.5 A-1140.0 F26.7882
N265 G0 Z5.0
(start 1 of 3, pass 3 of 5, depth 3.47 mm)
N270 G0 X27.5
N275 G0 A-1204.2857
N280 G1 Z-3.4713 F118.046
N285 G1 X25.5 A-1221.4286 F281.392
N290 G1 X-420.0 A-5040.0 F1.26327
N295 G1 X-441.0 Z0.5 A-5220.0 F26.7824
N300 G0 Z5.0
(start 2 of 3, pass 3 of 5, depth 3.47 mm)
N305 G0 X27.5
N310 G0 A6955.7143
N315 G1 Z-3.4713 F118.046
N320 G1 X25.5 A6938.5714 F281.392
N325 G1 X-420.0 A3120.0 F1.26327
N330 G1 X-441.0 Z0.5 A2940.0 F26.7824
N335 G0 Z5.0
(start 3 of 3, pass 3 of 5, depth 3.47 mm)
N340 G0 X27.5
N345 G0 A2875.7143
N350 G1 Z-3.4713 F118.046
N355 G1 X25.5 A2858.5714 F281.392
N360 G1 X-420.0 A-960.0 F1.26327
N365 G1 X-441.0 Z0.5 A-1140.0 F26.7824
N370 G0 Z5.0
(start 1 of 3, pass 4 of 5, depth 4.11 mm)
N375 G0 X27.5
N380 G0 A-1204.2857
N385 G1 Z-4.105 F109.83
N390 G1 X25.5 A-1221.4286 F281.392
N395 G1 X-420.0 A-5040.0 F1.26327
N400 G1 X-441.0 Z0.5 A-5220.0 F26.7766
N405 G0 Z5.0
(start 2 of 3, pass 4 of 5, depth 4.11 mm)
N410 G0 X27.5
N415 G0 A6955.7143
N420 G1 Z-4.105 F109.83
N425 G1 X25.5 A6938.5714 F281.392
N430 G1 X-420.0 A3120.0 F1.26327
N435 G1 X-441.0 Z0.5 A2940.0 F26.7766
N440 G0 Z5.0
(start 3 of 3, pass 4 of 5, depth 4.11 mm)
N445 G0 X27.5
N450 G0 A2875.7143
N455 G1 Z-4.105 F109.83
N460 G1 X25.5 A2858.5714 F281.392
N465 G1 X-420.0 A-960.0 F1.26327
N470 G1 X-441.0 Z0.5 A-1140.0 F26.7766
N475 G0 Z5.0
(start 1 of 3, pass 5 of 5, depth 4.67 mm)
N480 G0 X27.5
N485 G0 A-1204.2857
N490 G1 Z-4.6651 F103.465
N495 G1 X25.5 A-1221.4286 F281.392
N500 G1 X-420.0 A-5040.0 F1.26327
N505 G1 X-441.0 Z0.5 A-5220.0 F26.7708
N510 G0 Z5.0
(start 2 of 3, pass 5 of 5, depth 4.67 mm)
N515 G0 X27.5
N520 G0 A6955.7143
N525 G1 Z-4.6651 F103.465
N530 G1 X25.5 A6938.5714 F281.392
N535 G1 X-420.0 A3120.0 F1.26327
N540 G1 X-441.0 Z0.5 A2940.0 F26.7708
N545 G0 Z5.0
N580 G0 Z40.0
(switch the spindle off)
N585 G94
N590 M30
