"""Do the lights show what others, and the pilot, must see?"""
