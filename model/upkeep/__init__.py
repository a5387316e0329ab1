"""model/upkeep"""
