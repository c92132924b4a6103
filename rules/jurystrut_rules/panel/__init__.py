"""Does everything on the panel fit, can it be reached and read, and does it agree with all other records?"""
