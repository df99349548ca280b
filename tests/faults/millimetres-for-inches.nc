%
; threadwright 0.1.0: lying press
; screw: right-hand, 1 start, lead 0.2500 in, pitch 0.2500
; in
; crest 1.5000 in, root 1.2298 in, crest flat 0.0625 in
; blank: hard maple, round, 1.5000 in, 13.1250 in long, of
; which 0.5000 in beyond the nose
; cutter: 60 degree V, 1/32 inch flat, 60 degrees, flat tip
; 0.0312 in, sticking out 1.7500 in
; spindle 10000 rev/min, feed 80.0 in/min along the helix at
; the crest
; machine: the bench by the window
; X0: nose face, X counts up towards the headstock
; Y0: cutter straight above the axis of rotation, set before
; the start
; Z0: top of the finished cylinder, 0.7500 in above the axis
; of rotation
; A0: start 1 at the nose face
; check by hand: jog A from 0 to +90, the top of the blank
; must move to the back, or else the thread winds the wrong
; way
; X -0.67249 to 8.125 in
; Z -0.1351 to 0.94685 in
; A -35888.38583 to 24660.0 degrees
; about 26.7 minutes
; care: read safety.md first
; the first run in the air, spindle off, one hand at the
; stop
; eyes covered, sleeves and hair tied, nobody near the
; turning blank
N10 G21
N20 G17
N30 G40
N40 G49
N50 G54
N60 G80
N70 G90
N80 G94
N90 G0 Z0.94685
N100 G0 X-0.67249
N110 G0 A-968.38583
; switch the spindle on at 10000 rev/min and wait until it
; has its speed, then let the program go on
N120 M0
; start 1 of 1, pass 1 of 3, depth 0.0691 in
N130 G0 Z0.19685
N140 G1 Z-0.06914 F26.667
N150 G1 X-0.59375 A-855.0 F4.23816
N160 G1 X8.0 A11520.0 F4.23818
N170 G1 X8.125 Z0.01969 A11700.0 F5.19566
N180 G0 Z0.19685
; start 1 of 1, pass 2 of 3, depth 0.1063 in
N190 G0 X-0.67249
N200 G0 A11991.61417
N210 G1 Z-0.10626 F26.6662
N220 G1 X-0.59375 A12105.0 F4.23816
N230 G1 X8.0 A24480.0 F4.23818
N240 G1 X8.125 Z0.01969 A24660.0 F6.00794
N250 G0 Z0.19685
; start 1 of 1, pass 3 of 3, depth 0.1351 in
N260 G0 X-0.67249
N270 G0 A-35888.38583
N280 G1 Z-0.1351 F26.6664
N290 G1 X-0.59375 A-35775.0 F4.23816
N300 G1 X8.0 A-23400.0 F4.23818
N310 G1 X8.125 Z0.01969 A-23220.0 F6.73134
N320 G0 Z0.94685
; switch the spindle off
N330 M30
%
