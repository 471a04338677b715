package sample

// A landmark is a building of the demo that is written by hand.
type landmark struct {
	name         string
	east, north  float64 // m from the town's centre
	construction string
	built        string
	strengthened string
	floors       int
	basements    string
	area         float64 // m2, gross
	length       float64 // m
	width        float64 // m
	use          string
	ground       string
	gap          string // m
	listed       string
	day, night   int
}

// landmarks of Calder Sound. All invented.
var landmarks = []landmark{
	{"Sound Teaching Hospital, Main Ward Block", 620, 480, "RC frame", "1968", "", 7, "1", 18200, 84, 31,
		"hospital", "D", "12", "no", 900, 520},
	{"Sound Teaching Hospital, Theatre Wing", 705, 470, "RC walls", "1984", "", 4, "1", 7400, 60, 31, "hospital",
		"D", "9", "no", 310, 90},
	{"Sound Teaching Hospital, Outpatients", 610, 560, "Steel frame (moment)", "1996", "", 3, "0", 5600, 62, 30,
		"hospital", "D", "15", "no", 420, 10},
	{"Sound Teaching Hospital, Nurses' Home", 760, 570, "RC frame with infill", "1957", "", 6, "0", 4900, 45, 18,
		"apartment", "D", "7", "no", 60, 180},
	{"Sound Teaching Hospital, Boiler House", 790, 500, "Stone/brick", "1931", "", 1, "0", 420, 24, 17,
		"industrial", "D", "5", "no", 6, 2},
	{"Sound Teaching Hospital, Laboratories", 560, 430, "RC frame", "1974", "", 5, "1", 6900, 58, 24,
		"laboratory", "D", "10", "no", 260, 20},
	{"Museum of the Sound", -240, 130, "Stone/brick", "1898", "", 3, "1", 5200, 58, 30, "museum", "C", "8",
		"yes", 240, 4},
	{"Museum of the Sound, Print Store", -290, 150, "RC frame", "1962", "", 4, "1", 2600, 32, 20, "museum", "C",
		"4", "no", 18, 1},
	{"Lightvessel Gallery", -180, -260, "Steel frame (braced)", "2004", "", 2, "0", 1900, 42, 23, "museum", "E",
		"20", "no", 120, 1},
	{"Town Hall", 0, 0, "Stone/brick", "1907", "1988", 4, "1", 6100, 48, 32, "office", "C", "18", "yes", 280, 6},
	{"Town Hall Annexe", 60, -20, "RC frame with infill", "1959", "", 5, "0", 3600, 36, 20, "office", "C", "0",
		"no", 190, 2},
	{"Calder Polytechnic, Library", -820, 610, "RC frame", "1971", "", 6, "1", 9800, 54, 31, "school", "B", "16",
		"no", 620, 5},
	{"Calder Polytechnic, Engineering Hall", -900, 640, "RC frame", "1965", "", 4, "0", 7200, 66, 28, "school",
		"B", "11", "no", 540, 4},
	{"Calder Polytechnic, Chemistry", -870, 720, "RC walls", "1978", "", 5, "1", 6800, 50, 28, "laboratory", "B",
		"9", "no", 380, 12},
	{"Calder Polytechnic, Lecture Theatres", -760, 690, "RC walls", "1969", "", 2, "0", 3100, 48, 33, "assembly",
		"B", "14", "no", 700, 0},
	{"Calder Polytechnic, Student Tower", -980, 590, "RC walls", "1973", "", 14, "1", 10600, 36, 21, "apartment",
		"B", "22", "no", 120, 460},
	{"Calder Polytechnic, Halls East", -700, 600, "RC frame with infill", "1961", "", 5, "0", 5200, 60, 17,
		"apartment", "B", "9", "no", 70, 250},
	{"Calder Polytechnic, Workshops", -930, 760, "Tilt-up panels", "1982", "", 1, "0", 2900, 72, 40,
		"industrial", "B", "12", "no", 110, 0},
	{"Calder Polytechnic, Sports Hall", -1040, 700, "Steel frame (braced)", "1991", "", 1, "0", 2400, 54, 44,
		"assembly", "B", "25", "no", 260, 0},
	{"Calder Polytechnic, Old College", -800, 540, "Stone/brick", "1884", "", 3, "0", 4300, 52, 28, "school",
		"B", "10", "yes", 300, 2},
	{"Calder Polytechnic, Computing Centre", -850, 560, "Steel frame (moment)", "2009", "", 4, "1", 5400, 48, 28,
		"laboratory", "B", "13", "no", 330, 15},
	{"Harbour Authority", 140, -390, "RC frame", "1976", "", 6, "0", 5700, 40, 24, "office", "E", "6", "no", 240,
		12},
	{"Quay Warehouse No. 1", 260, -450, "Stone/brick", "1889", "", 4, "0", 5100, 62, 21, "warehouse", "E", "0",
		"yes", 25, 0},
	{"Quay Warehouse No. 2", 322, -455, "Stone/brick", "1893", "", 4, "0", 5100, 62, 21, "warehouse", "E", "0",
		"yes", 25, 0},
	{"Ferry Terminal", 30, -480, "Steel frame (moment)", "1999", "", 2, "0", 3800, 76, 25, "assembly", "E", "30",
		"no", 420, 5},
	{"Grand Sound Hotel", -90, -330, "Steel frame with infill", "1926", "", 8, "1", 8900, 44, 26, "hotel", "E",
		"2", "yes", 160, 310},
	{"Meridian House", 110, 160, "Steel frame (moment)", "1987", "", 17, "2", 21500, 38, 34, "office", "C", "5",
		"no", 1150, 12},
	{"Sound Savings Bank", 40, 90, "RC walls", "1934", "", 5, "1", 2900, 27, 22, "office", "C", "0", "yes", 130,
		1},
	{"Central Fire Station", 210, 240, "RC frame", "1967", "", 2, "0", 1700, 40, 22, "emergency", "C", "8", "no",
		24, 18},
	{"Signal Hill Reservoir Tower", -420, 820, "RC walls", "1955", "", 1, "0", 180, 15, 15, "industrial", "B",
		"60", "no", 0, 0},
	{"Telephone Exchange", 90, 60, "RC frame", "1964", "", 4, "1", 3400, 33, 26, "emergency", "C", "3", "no", 40,
		8},
	{"St Brannoc's Church", -130, 60, "Stone/brick", "1852", "", 1, "0", 780, 44, 18, "assembly", "C", "14",
		"yes", 90, 0},
	{"Harbour Street School", 380, 60, "RC frame with infill", "1954", "", 3, "0", 4100, 70, 20, "school", "D",
		"16", "no", 480, 2},
	{"Signal Hill Primary", -480, 690, "Timber", "1972", "", 1, "0", 1600, 64, 25, "school", "B", "20", "no",
		260, 0},
	{"Northside Secondary", 300, 980, "Block (reinforced)", "1986", "", 3, "0", 6200, 74, 28, "school", "C",
		"18", "no", 640, 2},
}
